"""What the records of a generated case may hold, and now and then what they must not."""

from __future__ import annotations

import random
from collections.abc import Callable
from typing import Any

RECENT = ("triage", "signs", "checkup", "kid_look", "afterbirth")
# What an entry of the second version says and one of the first does not.
SECOND = {"weight": "g", "checkup": "cud", "triage": "left", "kidded": "timed"}
SIGNS = ("pawing", "alone", "straining", "water_bag", "kid_out", "prolapse")
Data = dict[str, Any]
OBSERVED = (
    *("score", "weight", "milk", "udder", "signs", "checkup", "checkup"),
    *("weather", "water", "round", "triage", "got_into"),
    *("kid_look", "afterbirth"),
)
Date = Callable[..., str]


def mostly(dice: random.Random, right: tuple[Any, ...], wrong: tuple[Any, ...]) -> Any:
    """One in twenty is what nobody can read: such an entry is set aside whole."""
    return dice.choice(wrong if dice.random() < 0.05 else right)


def records(dice: random.Random, feeds: tuple[str, ...]) -> dict[str, Data]:
    return {
        "contact": {"name": "Vet", "phone": dice.choice(("", "555-0100", 7))},
        "shelf": {"card": "bloat", "told": dice.choice(("Ring", "Wait")), "gone": False},
        "scoop": {"name": "Blue", "feed": dice.choice(feeds)},
        "jar": {"feed": "barley", "dry_g": 250, "days": 6, "thrown": dice.random() < 0.3},
        "pack": {"from_on": "2026-11-30", "look": dice.choice(([], ["doe1"])), "gone": dice.random() < 0.3},
    }


def state(dice: random.Random, kind: str) -> Data:
    born = dice.randint(0, 4)
    every: dict[str, Data] = {
        "preg_check": {"result": dice.choice(("pregnant", "open", "unsure")), "kids": born, "how": "scan"},
        "kidded": {"born": born, "alive": min(born, 1), **dice.choice(({}, {"timed": False}, {"timed": True}))},
        "left_herd": {"why": "sold"},
    }
    return every.get(kind, {})


def lot(dice: random.Random, date: Date) -> Data:
    return {"flake_g": dice.choice((0, 1500, 1500, 2000)), "opened_on": dice.choice(("", date(9)))}


def calibration(dice: random.Random) -> Data:
    fills = mostly(dice, ([200, 210], [190], []), ("heavy", [None, 180, 1.5, True]))
    lot = mostly(dice, ("", "lot1"), (None,))
    return {"of": dice.choice(("scoop", "scoop", "flake")), "fills_g": fills, "lot": lot}


def media(dice: random.Random, subjects: tuple[str, ...]) -> list[tuple[str, str, Data]]:
    found: list[tuple[str, str, Data]] = []
    for _ in range(dice.choice((0, 0, 1, 2))):
        mark = {"sha256": f"{dice.randrange(4):064x}", "bytes": dice.randint(1, 90_000)}
        sizes = {"w": 400, "h": mostly(dice, (300,), (None,))}
        picture = {**mark, "what": mostly(dice, ("her", "udder", "label"), (7,)), **sizes}
        spoken = {**mark, "ms": mostly(dice, (900, 30_000), ("long",))}
        kind, data = dice.choice((("picture", picture), ("voice", spoken)))
        found.append((kind, dice.choice(subjects), data))
    return found


def freeze(dice: random.Random, date: Date) -> Data:
    until = mostly(dice, ("", date(3, 9), date(0, 9)), (5,))
    return {"until_on": until, "grain_out": dice.random() < 0.5, "of": ""}


def treatment(dice: random.Random, date: Date) -> Data:
    carries = mostly(dice, (["copper"], ["selenium"], ["selenium", "copper"], []), ("copper", [4]))
    said = {"told": "As on the label", "why": "", "who": dice.choice(("vet", "label")), "meat_until": ""}
    product = mostly(dice, ("Bolus", "\U0001f410"), (4,))
    return {"product": product, **said, "milk_until": date(), "carries": carries}


def triage(dice: random.Random, intakes: list[str]) -> Data:
    asked = {name: dice.choice(("", "yes", "no")) for name in ("new_feed", "water_bad", "bullied")}
    result = mostly(dice, ("", "eating", "same", "same", "worse", "down", "vet_called"), (1,))
    told = {"of": dice.choice(["", *intakes]), **asked, "suspect": dice.choice(("", "", "bloat")), "result": result}
    # one of the first version did not ask what was left
    return told if dice.random() < 0.2 else {**told, **later(dice)}


def later(dice: random.Random) -> Data:
    passes = dice.choice(("", "", "stream", "drips", "nothing"))
    left = dice.choice(("", "grain", "hay", "both"))
    return {"left": left, "passes": passes, "strains": dice.choice(("", "", "yes", "no"))}


def wished(dice: random.Random, slot: str, ration: Data, wish: str) -> list[tuple[str, Data]]:
    """Now and then a ration wanted by somebody who may not set it, under an id; declined, let in, or both."""
    if dice.random() < 0.7:
        return []
    wanted = {"to": "pen", "slot": slot, "feed": ration["feed"], "reason": "", "steps": ration["steps"]}
    answers = [("decline", {"of": wish, "word": dice.choice(("", "later"))}), ("ration", {**ration, "wish": wish})]
    return [("wish", wanted), *(answer for answer in answers if dice.random() < 0.4)]


def looks(dice: random.Random) -> Data:
    """What a checkup of the second version adds; empty for one of the first."""
    if dice.random() >= 0.6:
        return {}
    seen = {
        "cud": ("none", "chewing"),
        "dung": ("none", "dry", "loose"),
        "belly": ("tight", "fine"),
        "udder": ("cold", "hot", "clots"),
    }
    return {"legs": "", "eyes": dice.randint(0, 5), **{part: dice.choice(("", *found)) for part, found in seen.items()}}


def version(kind: str, data: Data) -> int:
    return 2 if SECOND.get(kind) in data else 1


def kid_look(dice: random.Random) -> Data:
    told = {name: dice.choice(("", "yes", "no")) for name in ("swallows", "up")}
    found = {"mouth": dice.choice(("", "warm", "cold")), "belly": dice.choice(("", "full", "empty"))}
    figures = {"kid": mostly(dice, (1, 2, 3), (None, "1")), "rectal_c_x10": dice.choice((0, 0, 365, 377, 378, 391))}
    fed = dice.choice(("", "sucked", "bottle", "tubed", "none"))
    return {**figures, **told, **found, "fed": fed, "dead": dice.random() < 0.05}


def observation(dice: random.Random, kind: str, intakes: list[str]) -> Data:
    every: dict[str, Data] = {
        "score": {"x100": dice.randrange(150, 475, 25)},
        "weight": {"g": dice.randint(20_000, 70_000), "how": "tape", "girth_mm": 0, "length_mm": 0},
        "milk": {"g": dice.randint(0, 2500), "fat_x100": 0},
        "udder": {"fill": dice.randint(0, 4), "uneven": dice.random() < 0.5},
        "checkup": {
            "temp_c_x10": dice.choice((0, 0, 370, 383, 391, 400, 409)),
            "bhb_x10": dice.choice((0, 3, 6, 9, 20)),
            "urine": dice.choice(("", "none", "trace", "small", "large")),
            **looks(dice),
        },
        "triage": triage(dice, intakes),
        "got_into": {"feed": dice.choice(("", "barley", "mystery")), "g": mostly(dice, (None, 200, 900), ("x",))},
        "round": {"what": dice.choice(("heads", "water", "gates")), "count": dice.randint(0, 12), "of": 12},
        "weather": {"low_c": dice.randint(-30, 20), "wet": dice.random() < 0.4},
        "water": {
            "place": mostly(dice, ("", "Well"), (5,)),
            "drunk_l": dice.choice((None, 40)),
            "values": mostly(dice, ([{"what": "fe", "printed": "<0.1", "unit": "mg_l"}], []), (None, [3])),
        },
        "kid_look": kid_look(dice),
        "afterbirth": {"seen": mostly(dice, ("passed", "hanging", "not_seen", "vet_told"), (None, 3))},
        "signs": {
            "seen": dice.sample((*SIGNS, "\U0001f410", "\uffee"), 2) if dice.random() < 0.4 else [],
            "absent": dice.choice(([], [], ["straining"], ["alone", "pawing"])),
        },
    }
    return every[kind]


def again(dice: random.Random, target: Data) -> Data:
    """What a correction says in an entry's place: the same once more, or nothing at all."""
    if target["kind"] == "score":
        return {"x100": 275}
    return mostly(dice, (dict(target.get("data", {})),), ({},))


def odd(doe: str) -> tuple[tuple[str, str, Data], ...]:
    """What a newer app or a broken one writes."""
    return (
        ("sheared", doe, {"kg": 3}),
        ("score", "stranger", {"x100": 300}),
        ("fed", "stranger", {"lines": [{"to": doe, "feed": "hay", "g": 5}], "adds": False}),
        ("note", "anybody", {"text": 'a "quoted"\nnote \u2028'}),
        ("score", doe, {"x100": "300"}),
        ("moved", doe, {"pen": 7}),
        ("fed", doe, {"lines": "none", "adds": 1}),
        ("ration", doe, {"to": "doe", "slot": "morning", "feed": "hay", "steps": [{"g": 5}], "base": ""}),
        ("signs", doe, {"seen": ["pawing", "pawing", 3], "absent": None}),
    )
