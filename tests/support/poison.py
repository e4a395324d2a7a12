"""Farms whose logs hold what nobody should have recorded: unknown kinds and versions, content of any type, odd clocks,
and voids and corrections in every knot. Among sound entries, which must count as if the rest were not there.
"""

from __future__ import annotations

import json
import random
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from typing import Any

from herd.state.kinds import CHAINS, KINDS
from herd.state.order import Event
from tests.support.paths import ROOT

SOUND: dict[tuple[str, int], Any] = {
    (event["kind"], event["v"]): event["data"]
    for path in sorted((ROOT / "tests/vectors/events").glob("*.json"))
    for event in [json.loads(path.read_text())["event"]]
}
NOT_LINKS = [key for key in SOUND if key[0] not in CHAINS]
NOON_MS, DAY_MS = 1_794_744_000_000, 86_400_000
LATEST_MS = 253_402_300_799_000
# What a build from before knows, and one from after: {kind: newest version}.
TODAY = {name: kind.newest for name, kind in KINDS.items()}
LATER = ("triage", "freeze", "round", "jar", "pack", "wish", "decline", "got_into")
BEFORE = {name: min(newest, 1) for name, newest in TODAY.items() if name not in LATER}
AFTER = {name: newest + 8 for name, newest in TODAY.items()}
BUILDS = (TODAY, TODAY, BEFORE, AFTER)
ODD: tuple[Any, ...] = (
    None, True, False, 0, -1, 1, 275, 2**31, 2**53, 2**60, 10**15, 10**40, -(10**20), 0.5, 1.0, -0.0, 1e300,
    "", "a", "300", "2026-11-01", "2026-02-30", "0001-01-01", "9999-12-31", "morning", "\U0001f410", "\uffee",
    "__proto__", "a|b|c", "\u2028", [], [[]], [None], [3], ["a", "a"], ["a", 1], [{}], [{"g": "x"}], [[[[[[1.5]]]]]],
    {}, {"a": None}, {"__proto__": 1}, {"constructor": {"x": 1}}, {"f": 1}, {"f": {}, "base": {}}, {"of": 5},
    {"toString": 1, "valueOf": 1},
)  # fmt: skip
ENVELOPE = ("kind", "v", "subject", "on", "slot", "happened", "entered", "hlc", "author", "device")


@contextmanager
def build(newest: dict[str, int]) -> Iterator[None]:
    """Python as a build with these kinds and versions."""
    held = dict(KINDS)
    KINDS.clear()
    KINDS.update({name: replace(held[name], versions=tuple(range(1, top + 1))) for name, top in newest.items()})
    try:
        yield
    finally:
        KINDS.clear()
        KINDS.update(held)


class Poisoned:
    """One farm. Every choice comes from DICE."""

    def __init__(self, dice: random.Random) -> None:
        self.dice = dice
        self.does = [self.id() for _ in range(dice.randint(1, 3))]
        self.pens = [self.id()]
        self.others = [self.id() for _ in range(2)]
        self.log: list[Event] = []
        self.sound: set[str] = set()

    def made(self) -> dict[str, Any]:
        """`log` as texts, in an order of arrival; `taps` come after them, one by one; `sound`: ids not spoiled."""
        for doe in self.does:
            self.sound_one("doe", 1, doe)
        self.sound_one("pen", 1, self.pens[0])
        for _ in range(self.dice.randint(4, 12)):
            self.sound_one(*self.dice.choice(NOT_LINKS))
        for _ in range(self.dice.randint(1, 8)):
            self.dice.choice((self.unknown, self.spoiled, self.spoiled, self.moved, self.link, self.link, self.knot))()
        self.dice.shuffle(self.log)
        taps = [self.tap() for _ in range(2)]
        return {"log": list(map(text, self.log)), "taps": list(map(text, taps)), "sound": sorted(self.sound)}

    def only_poison(self) -> list[Event]:
        """Without one sound entry, and with envelopes that a farm's server lets in."""
        for _ in range(self.dice.randint(1, 4)):
            self.dice.choice((self.unknown, self.spoiled, self.knot))()
        return self.log

    def id(self) -> str:
        figures = f"{self.dice.getrandbits(128):032x}"
        return "-".join((figures[:8], figures[8:12], figures[12:16], figures[16:20], figures[20:]))

    def event(self, kind: Any, v: Any, data: Any, subject: str = "") -> Event:
        dice = self.dice
        happened = NOON_MS + dice.randrange(-20, 20) * DAY_MS // 4
        return {
            "id": self.id(),
            "kind": kind,
            "v": v,
            "subject": subject or dice.choice((*self.does, *self.does, *self.pens, *self.others)),
            "on": f"2026-11-{dice.randint(1, 28):02}",
            "slot": dice.choice(("", "morning", "midday", "evening", "late")),
            "happened": happened,
            "entered": happened,
            "hlc": self.stamp(),
            "author": self.others[0],
            "device": self.others[0],
            "data": data,
        }

    def stamp(self) -> str:
        return f"{self.dice.randrange(60):012x}-{self.dice.randrange(2):04x}-0000000{self.dice.choice('ab')}"

    def sound_one(self, kind: str, v: int, subject: str = "") -> None:
        event = self.event(kind, v, SOUND[kind, v], subject)
        self.sound.add(event["id"])
        self.log.append(event)

    def unknown(self) -> None:
        """Accepted by a farm's server that does not know it: any content goes."""
        dice = self.dice
        kind, v = dice.choice((("sheared", 1), (dice.choice(list(KINDS)), dice.choice((2, 3, 9, 10, 1000)))))
        data = SOUND.get((kind, 1)) if dice.random() < 0.5 else self.any()
        self.log.append(self.event(kind, v, data))

    def spoiled(self) -> None:
        """A known kind whose content, or one field of it, is something else."""
        kind, v = self.dice.choice(list(SOUND))
        data = self.any() if self.dice.random() < 0.3 else self.with_one_spoiled(SOUND[kind, v])
        self.log.append(self.event(kind, v, data))

    def moved(self) -> None:
        """Clocks, days and stamps that are possible and absurd, or no envelope at all."""
        dice = self.dice
        event = self.event(*(key := dice.choice(NOT_LINKS)), SOUND[key])
        odd = {
            "happened": dice.choice((0, 1, LATEST_MS)),
            "on": dice.choice(("0001-01-01", "0099-12-31", "9999-12-31")),
        }
        odd |= {"hlc": dice.choice(("0" * 12 + "-0000-00000000", "f" * 12 + "-ffff-ffffffff"))}
        if dice.random() < 0.4:
            odd = {dice.choice(ENVELOPE): self.any()}
            if dice.random() < 0.2:
                event.pop(dice.choice(ENVELOPE))
        self.log.append(event | odd)

    def link(self) -> None:
        """A void or a correction of anything, itself and what was never there among them."""
        dice = self.dice
        target = dice.choice([*self.log, self.event("score", 1, None)])
        self.log.append(self.link_to(target["id"], str(target.get("subject", ""))))

    def link_to(self, of: Any, subject: str) -> Event:
        dice = self.dice
        if dice.random() < 0.5:
            return self.event("void", dice.choice((1, 1, 1, 2, 9)), {"of": of}, subject)
        said = dice.choice([*SOUND.values(), {"x100": 275}, self.any()])
        data = {"of": of, "data": said}
        if dice.random() < 0.4:
            data[dice.choice(("on", "slot", "happened"))] = dice.choice((self.any(), "2026-11-03", "morning", NOON_MS))
        return self.event("correct", dice.choice((1, 1, 1, 2)), data, subject)

    def knot(self) -> None:
        """A ring of voids and corrections, each naming the next; of one, it names itself."""
        ring = [self.link_to("", self.does[0]) for _ in range(self.dice.randint(1, 4))]
        for one, following in zip(ring, [*ring[1:], ring[0]], strict=True):
            one["data"]["of"] = following["id"]
        self.log += ring

    def tap(self) -> Event:
        """What somebody records on a phone that holds all this: whole in itself."""
        dice = self.dice
        if dice.random() < 0.5:
            kind = dice.choice(("score", "milk", "udder", "fed", "intake", "freeze", "round", "signs", "note"))
            event = self.event(kind, 1, SOUND[kind, 1])
        else:
            target = dice.choice(self.log)
            kind = dice.choice(("void", "correct"))
            data = {"of": str(target["id"])}
            if kind == "correct":
                data["data"] = self.again(target)
            event = self.event(kind, 1, data, str(target.get("subject", "")))
        return event | {"happened": LATEST_MS + 1 if dice.random() < 0.5 else NOON_MS + 10 * DAY_MS}

    def again(self, target: Event) -> Any:
        """What a correction says in its place: the same sort of thing, or of another."""
        alike = SOUND.get((str(target.get("kind")), 1), {}) if self.dice.random() < 0.7 else {"x100": 275}
        return {**alike, "g": 777, "left_pct": 30}

    def any(self) -> Any:
        return self.dice.choice(ODD)

    def with_one_spoiled(self, data: Any) -> Any:
        """The same content with one part of it, at any depth, replaced or gone."""
        dice = self.dice
        if isinstance(data, dict) and data:
            name = dice.choice(sorted(data))
            rest = {key: value for key, value in data.items() if key != name}
            if dice.random() < 0.2:
                return rest
            return rest | {name: self.with_one_spoiled(data[name]) if dice.random() < 0.5 else self.any()}
        if isinstance(data, list) and data:
            return [self.with_one_spoiled(data[0]), *data[1:]]
        return self.any()


def text(event: Event) -> str:
    return json.dumps(event)


def cases(count: int, seed: int) -> Iterator[dict[str, Any]]:
    """Each with the build that reads it."""
    for n in range(count):
        dice = random.Random(f"{seed}/{n}")
        yield {"n": n, "build": BUILDS[n % len(BUILDS)], **Poisoned(dice).made()}
