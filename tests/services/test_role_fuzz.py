"""Random people, kinds, links, forged proofs, orders of arrival: nobody moves a farm who may not, whatever came first.

MANGERLINE_ROLE_SEEDS=1000 tries more of them.
"""

from __future__ import annotations

from datetime import timedelta
from random import Random
from typing import Any

import pytest

from herd.models import Event, Farm
from herd.models.farm import ADVISER, FAMILY, HELPER, OWNER
from herd.services.bootstrap import snapshot
from herd.services.clock import day_of
from herd.services.make_farm import make_farm
from herd.services.rebuild import rebuild
from herd.services.record_events import Batch, record_events
from herd.services.wire import canonical
from herd.state.fold import View, fold
from herd.state.kinds import CHAINS, KINDS, OBSERVATION
from herd.state.rations import amount_on
from tests.logs import replayed
from tests.people import ZONE, People
from tests.phones import new_id, now_ms
from tests.support.thorough import times

SEEDS = times("MANGERLINE_ROLE_SEEDS", 4, 60)
QUICK = 1
ENTRIES, ARRIVALS = 45, 4
MINUTE_MS = 60_000
NOW = now_ms()
TODAY = day_of(NOW, ZONE)
ROLES = (OWNER, FAMILY, HELPER, ADVISER)
PLANNING = (OWNER, FAMILY)
Fact = dict[str, Any]
# What of a record a helper says only where she makes it, and what making one says: without the rules of the server.
PLACED = {
    "doe": {"order"},
    "pen": {"order"},
    "feed": {"cp_pct_x10", "ca_pct_x100"},
    "shelf": {"told", "card"},
}
NAMED = {"doe": {"name"}, "pen": {"name"}, "feed": {"name"}, "shelf": {"card", "product", "told"}}


def on(days: int) -> str:
    return (TODAY + timedelta(days=days)).isoformat()


class Barn:
    """What four people recorded about two does, a pen and the farm, in no order at all."""

    def __init__(self, people: People, seed: int) -> None:
        self.dice = Random(seed)
        who = (people.ada, people.ben, people.cleo, people.dov)
        self.people = {role: person.pk for role, person in zip(ROLES, who, strict=True)}
        self.devices = {role: new_id() for role in ROLES}
        self.does, self.pen, self.farm = [new_id(), new_id()], new_id(), new_id()
        self.feed, self.shelf = new_id(), new_id()
        self.events: list[Fact] = []
        for doe in self.does:
            self.add(OWNER, "doe", doe, {"f": {"name": "Ivy", "order": 1}, "base": {}}, ago=600)
        while len(self.events) < ENTRIES:
            self.say()

    def add(self, role: str, kind: str, subject: str, data: Fact, ago: int | None = None) -> None:
        ago_stamp, ago_happened = (self.dice.randrange(1, 500) if ago is None else ago for _ in range(2))
        if role == HELPER and kind in PLACED and self.dice.random() < 0.4:
            # before anything else was recorded
            ago_stamp = self.dice.randrange(600, 900)
        happened = NOW - ago_happened * MINUTE_MS
        stamp = f"{NOW - ago_stamp * MINUTE_MS:012x}-{len(self.events):04x}-{self.devices[role][:8]}"
        made = {"id": new_id(), "kind": kind, "v": KINDS[kind].newest, "subject": subject, "slot": "", "hlc": stamp}
        rest = {"on": on(0), "happened": happened, "entered": happened, "data": data}
        self.events.append({**made, **rest, "author": self.people[role], "device": self.devices[role]})

    def say(self) -> None:
        dice = self.dice
        role, doe = dice.choice((OWNER, OWNER, FAMILY, HELPER, HELPER, HELPER, ADVISER)), dice.choice(self.does)
        treated = {"product": "x", "told": "", "why": "", "who": "vet", "meat_until": "", "carries": []}
        slot, feed = dice.choice(("morning", "evening")), dice.choice(("oats", "grass_hay"))
        dated = sorted({on(dice.randrange(-3, 6)) for _ in range(dice.randrange(1, 4))})
        steps = [{"on": day, "g": 50 * dice.randrange(0, 8)} for day in dated]
        place = {"f": {dice.choice(("order", "order", "name")): 1}}
        place["f"] = {key: f"Ivy {len(self.events)}" if key == "name" else dice.randrange(9) for key in place["f"]}
        until = dice.choice(("", on(-1), on(1), on(3), on(30)))
        share = {dice.choice(("cp_pct_x10", "ca_pct_x100")): 10 * dice.randrange(9)}
        content = dice.choice(({"name": f"Mix {len(self.events)}"}, share, {"name": "Mix", **share}))
        word = {dice.choice(("told", "place", "product")): f"Word {len(self.events)}"}
        made: dict[str, tuple[str, Fact]] = {
            "rules": (self.farm, {"f": {"level_pm": 60 + len(self.events)}, "base": {}}),
            "contact": (self.pen, {"f": {"name": f"Vet {len(self.events)}"}, "base": {}}),
            "left_herd": (doe, {"why": "sold"}),
            "doe": (doe, place),
            "pen": (self.pen, place),
            "treatment": (doe, {**treated, "milk_until": on(dice.randrange(9))}),
            "ration": (doe, {"to": "doe", "slot": slot, "feed": feed, "base": "", "steps": steps}),
            "freeze": (doe, {"until_on": until, "grain_out": dice.random() < 0.4, "of": ""}),
            "kidded": (doe, {"born": 2, "alive": dice.randrange(3), "timed": dice.random() < 0.5}),
            "moved": (doe, {"pen": dice.choice((self.pen, ""))}),
            "score": (doe, {"x100": 25 * dice.randrange(4, 20)}),
            "bred": (doe, {"from_on": on(-dice.choice((20, 101, 130))), "to_on": on(-20), "how": "hand", "buck": ""}),
            "wish": (doe, {"to": "doe", "slot": slot, "feed": feed, "reason": "", "steps": steps}),
            "decline": (doe, {"of": dice.choice(self.events)["id"], "word": ""}),
            "feed": (self.feed, {"f": content}),
            "shelf": (self.shelf, {"f": dice.choice((word, {"card": "bloat", **word}))}),
        }
        kind = dice.choice((*made, "ration", "freeze", "treatment", *CHAINS, *CHAINS, "void"))
        subject, data = self.link(kind, role) if kind in CHAINS else made[kind]
        if kind in PLACED:
            data["base"] = self.in_sight(subject, data["f"])
        self.add(role, kind, subject, data)

    def in_sight(self, subject: str, fields: Fact) -> dict[str, str]:
        """Now and then somebody had what another wrote before her eyes."""
        writes = [event for event in self.events if event["subject"] == subject and event["kind"] in PLACED]
        if not writes or self.dice.random() < 0.6:
            return dict.fromkeys(fields, "")
        return {name: self.dice.choice(writes)["hlc"] for name in fields}

    def link(self, kind: str, role: str) -> tuple[str, Fact]:
        """Of anything said before, now and then of the entry that follows, so that some name each other."""
        target = self.dice.choice(self.events)
        if target["kind"] in CHAINS and self.dice.random() < 0.15:
            target["data"]["of"] = self.events[-1]["id"]
        said = target["data"]
        if target["kind"] == "treatment":
            said = {**said, "milk_until": self.dice.choice(("", on(self.dice.randrange(9))))}
        data = {"of": target["id"], **({"data": said} if kind == "correct" else {})}
        wrong = self.dice.random() < 0.1
        return self.dice.choice(self.does) if wrong else target["subject"], data

    def arrive(self, people: People, order: list[Fact]) -> Farm:
        """On a farm of its own: everything in that order, each in the name of whoever recorded it."""
        farm = make_farm("Hill", ZONE, people.ada)
        role_of = {author: role for role, author in self.people.items()}
        left = [{**event, "subject": farm.id} if event["subject"] == self.farm else event for event in order]
        while left:
            author, size = left[0]["author"], self.dice.randrange(1, 5)
            run = [event for event in left[:size] if event["author"] == author]
            left = [event for event in left if event not in run]
            raw = [canonical(event).encode() for event in run]
            forged = {event["id"]: self.forged(event) for event in run}
            record_events(Batch(farm.id, author, role_of[author], run[0]["device"], NOW, raw, now=NOW, before=forged))
        return farm

    def forged(self, event: Fact) -> Any:
        far = {"happened": 0, "on": "1999-01-01", "hlc": f"{NOW:012x}-ffff-{event['hlc'][18:]}"}
        return self.dice.choice((None, 0, far, {"receipt": "o" + "A" * 22, "eff": far}, {"receipt": ["o"], "eff": 1}))


def seen(farm: Farm) -> View:
    """The farm as its phones fold it, but for what waits: which of a ring waits and which was refused is chance.

    So it is whether an entry about a doe who is taken back was judged before she went.
    """
    events = counting(farm)
    view = fold(events)
    about = {event["id"]: event["subject"] for event in events if event["kind"] not in CHAINS}
    there = {farm.id, *view["does"], *view["pens"], *view["contacts"]}
    voided = {target: void for target, void in view["voided"].items() if about.get(target) in there}
    # They stand by subject, and the farm is called otherwise each time.
    asked = sorted(view["questions"], key=lambda one: canonical(one).replace(farm.id, "farm"))
    kept = {part: content for part, content in view.items() if part != "parked"}
    return {**kept, "voided": voided, "questions": asked}


def counting(farm: Farm) -> list[Fact]:
    return [*replayed(farm, fold_status="ok"), *replayed(farm, fold_status="parked")]


@pytest.mark.parametrize(
    "seed", [*range(QUICK), *(pytest.param(n, marks=pytest.mark.slow) for n in range(QUICK, SEEDS))]
)
def test_nobody_moves_a_farm_who_may_not_whatever_came_first(people: People, seed: int, monkeypatch: Any) -> None:
    monkeypatch.setattr("herd.services.rebuild.recompile", lambda farm_id: 0)
    barn = Barn(people, seed)
    orders = [barn.events, barn.events[::-1]]
    orders += [barn.dice.sample(barn.events, len(barn.events)) for _ in range(ARRIVALS - 2)]
    farms = [barn.arrive(people, order) for order in orders]
    views = [canonical(seen(farm)).replace(farm.id, "farm") for farm in farms]
    assert set(views) == {views[0]}
    for farm in farms:
        rebuild(farm.id)
    assert [canonical(seen(farm)).replace(farm.id, "farm") for farm in farms] == views
    assert not Event.objects.exclude(eff="").exists(), "a forged proof was believed"
    held(barn, farms[0])
    for farm in farms:
        short = fold([kept.event for kept in snapshot(farm)])
        whole = seen(farm)
        assert short["rations"] == whole["rations"]
        assert {doe: row["freeze"] for doe, row in short["does"].items()} == {
            doe: row["freeze"] for doe, row in whole["does"].items()
        }


def held(barn: Barn, farm: Farm) -> None:
    """What no helper and no adviser may have moved, told without the rules of the server."""
    view, role_of = seen(farm), {author: role for role, author in barn.people.items()}
    by_id = {event["id"]: event for event in barn.events}

    def said(ev: str) -> str:
        return role_of[by_id[ev]["author"]]

    assert not Event.objects.filter(farm=farm, author=barn.people[ADVISER]).exists()
    for row in (view["rules"], *view["contacts"].values()):
        assert all(said(ev) in PLANNING for ev in row["by"].values())
    for target, void in view["voided"].items():
        assert said(void) in PLANNING or may_undo(by_id, target, by_id[void]["author"])
    owners = [event for event in counting(farm) if role_of[event["author"]] in PLANNING]
    alone = fold(owners)
    for doe in view["does"].keys() & alone["does"].keys():
        row = view["does"][doe]
        # set while her own entry was taken back, it was the place of a new doe
        if not changed(by_id, owners, "doe"):
            place = alone["does"][doe]["f"].get("order")
            assert row["f"].get("order") == place or said(row["by"]["order"]) in PLANNING
        mine, theirs = row["freeze"], alone["does"][doe]["freeze"]
        if not changed(by_id, owners, "freeze") and theirs:
            assert mine["until"] >= theirs["until"]
            assert mine["grain_out"] or not (theirs["grain_out"] and theirs["until"] >= on(0))
    if not changed(by_id, owners, "ration"):
        for key, row in view["rations"].items():
            if row["subject"] not in alone["does"]:
                continue
            plain = alone["rations"].get(key, {"steps": []})["steps"]
            for day in [on(n) for n in range(-5, 9)]:
                assert amount_on(row["steps"], day) <= amount_on(plain, day), key
    assert all(said(wish["declined"]["ev"]) in PLANNING for wish in view["wishes"] if wish["declined"])
    for kind, rows in (("feed", view["feeds"]), ("shelf", view["shelf"]), ("doe", view["does"]), ("pen", view["pens"])):
        for subject, row in rows.items():
            mine = [event for event in owners if (event["kind"], event["subject"]) == (kind, subject)]
            if changed(by_id, owners, kind):
                continue
            own = {field for event in mine for field in event["data"]["f"]}
            kept = PLACED[kind] if any(map(made, mine)) else PLACED[kind] & own
            for field in kept & row["by"].keys():
                assert said(row["by"][field]) in PLANNING, (kind, field)
    held_back(barn, view, owners, by_id)
    left = {event["subject"] for event in owners if event["kind"] == "left_herd"}
    assert {doe for doe, row in view["does"].items() if row["left_on"]} <= left


def made(event: Fact) -> bool:
    """Named by somebody who had nothing of it in sight: it was not there before."""
    said = event["data"]
    return bool(NAMED[event["kind"]] & said["f"].keys()) and not any(said["base"].get(name) for name in said["f"])


def held_back(barn: Barn, view: View, owners: list[Fact], by_id: dict[str, Fact]) -> None:
    """Every treatment of who plans stands as they left it."""
    if changed(by_id, owners, "treatment"):
        return
    for doe, row in view["does"].items():
        stands = {one["ev"]: one["milk_until"] for one in row["treatments"]}
        for event in owners:
            if event["kind"] == "treatment" and event["subject"] == doe:
                assert stands[event["id"]] == event["data"]["milk_until"]


def changed(by_id: dict[str, Fact], events: list[Fact], kind: str) -> bool:
    """Somebody who plans took back or corrected one: then it is no longer told by their entries alone."""
    links = [event["id"] for event in events if event["kind"] in CHAINS]
    return kind in {by_id[root_of(by_id, link)[-1]]["kind"] for link in links}


def root_of(by_id: dict[str, Fact], link: str) -> list[str]:
    """What a link leads to, down to the first one recorded, or once round the ring it is part of."""
    chain = [link]
    while by_id[chain[-1]]["kind"] in CHAINS and by_id[chain[-1]]["data"]["of"] not in chain:
        chain.append(by_id[chain[-1]]["data"]["of"])
    return chain


def may_undo(by_id: dict[str, Fact], target: str, author: str) -> bool:
    chain = [by_id[one] for one in root_of(by_id, target)]
    return {event["author"] for event in chain} == {author} or KINDS[chain[-1]["kind"]].family == OBSERVATION
