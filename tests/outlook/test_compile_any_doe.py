"""Whatever a farm records, compiling answers or says what is out of range; it never stumbles."""

import random
from collections import Counter
from typing import Any

from herd.outlook.codes import ASSUMED, BREEDS
from herd.outlook.compile import DAYS, FRESH_DAYS, compile_doe
from herd.outlook.rules import RULES
from tests.support.compiled import TODAY, aged, ago, folded, marked
from tests.support.compiled import served as said

HOW_MANY = 600
SEED = 20261125


def any_doe(dice: random.Random) -> dict[str, Any]:
    """Fields and state drawn freely, believable or not."""
    f: dict[str, Any] = {
        "size": dice.choice(["mini", "standard", ""]),
        "breed": dice.choice([*BREEDS, "zebu"]),
        "born_on": dice.choice(["", ago(dice.randint(0, 4000))]),
        "mature_kg": dice.choice([0, 10, 30, 60, 140]),
        "keeper": dice.choice(["easy", "even", "hard"]),
        "growing": dice.choice([True, False, None]),
        "kiddings_before": dice.choice([None, 0, 0, 1, 8]),
        "fat_x100": dice.choice([0, 0, 300, 660, 1200]),
    }
    served, length = dice.randint(-20, 190), dice.choice([0, 0, 0, 21, 60, 299])
    state: dict[str, Any] = {
        "bred": dice.choice([None, {"from": ago(served), "to": ago(served - length), "how": "pen", "ev": "b"}]),
        "check": dice.choice([None, {"on": ago(5), "result": "pregnant", "kids": dice.randint(0, 5), "ev": "c"}]),
        "dried_on": dice.choice(["", "", ago(dice.randint(0, 300))]),
        "weights": drawn(dice, [200, 9000, 24000, 33000, 61000, 88000], dice.choice(["scale", "tape"])),
        "milks": [[*row, 0, "m"] for row in drawn(dice, [0, 500, 1500, 3000])],
        "scores": drawn(dice, [100, 200, 275, 300, 400], "person"),
    }
    if dice.random() < 0.5:
        state |= {"kidded": {"on": ago(dice.randint(0, 1500)), "born": dice.randint(0, 6), "ev": "k"}, "kiddings": 1}
    return folded(f, **state, **known_of(dice, served))


def known_of(dice: random.Random, served: int) -> dict[str, Any]:
    """What her dates may hang on besides, as it comes."""
    near = [served + dice.randint(-60, 60) for _ in range(6)]
    words = ("marked", "standing", "flagging")
    return {
        "heats": [marked(on, dice.choice(words)) for on in sorted(near[:3], reverse=True) if dice.random() < 0.3],
        "checks": [aged(dice.choice([0, 15, 60, 91, 155]), on - 30) for on in near[3:5] if dice.random() < 0.3],
        "services": [said(near[5], dice.choice([1, 1, 5, 30])) for _ in range(dice.randint(0, 1))],
        "open_on": dice.choice(["", "", ago(served + 30)]),
    }


def drawn(dice: random.Random, values: list[int], word: str = "morning") -> list[list[Any]]:
    rows = [[ago(dice.randint(0, 300)), dice.choice(values), word, "mark"] for _ in range(dice.randint(0, 4))]
    return sorted(row if word != "morning" else row[:3] for row in rows)


def any_rules(dice: random.Random) -> dict[str, int]:
    return {name: dice.choice([rule.low, rule.high]) for name, rule in RULES.items() if dice.random() < 0.2}


def test_any_recorded_doe_gets_an_answer_or_a_reason() -> None:
    dice, why = random.Random(SEED), Counter[str]()
    for _ in range(HOW_MANY):
        doe, rules = any_doe(dice), any_rules(dice)
        doc = compile_doe(doe, rules, TODAY, "doe")
        why.update([doc["withheld"][0]["name"] if doc["withheld"] else "answered"])
        assert bool(doc["branches"]) != bool(doc["withheld"])
        assert set(doc["assumed"]) <= set(ASSUMED)
        for name, branch in doc["branches"].items():
            assert {len(days) for days in branch.values()} == {FRESH_DAYS if name.startswith("kidded") else DAYS}
            pairs = zip(branch["floor_me_kj"], branch["me_kj"], strict=True)
            assert all(floor <= need for floor, need in pairs), (doe, rules)
    assert why["answered"] > HOW_MANY / 3
    assert {"body_weight_kg", "fat_pct", "window_d", "gestation_day"} <= why.keys()
