"""Does as a keeper would describe them, for the tests that ask what each is told."""

from __future__ import annotations

from typing import Any

from tests.support.one_doe import OneDoe, code

BRED_ON = "2026-08-01"
MEALS = ("morning", "evening")
MINIATURE = {"size": "mini", "breed": "nigerian_dwarf", "born_on": "2022-03-01", "kiddings_before": 2}
STANDARD = {"size": "standard", "breed": "grade", "born_on": "2021-03-01", "kiddings_before": 3}


def in_two_meals(doe: OneDoe, subject: str, first: int, **grams_a_day: int) -> None:
    stepped(doe, subject, **{feed: [(first, g)] for feed, g in grams_a_day.items()})


def stepped(doe: OneDoe, subject: str, **grams_a_day: list[tuple[int, int]]) -> None:
    """Grams a day of each feed from each day on, half in the morning and half in the evening."""
    for slot in MEALS:
        for feed, steps in grams_a_day.items():
            doe.plan(subject, slot, feed, *((day, g // 2) for day, g in steps))


def miniature(kids: int = 2, weight_g: int = 30_000, **fields: Any) -> OneDoe:
    return OneDoe(BRED_ON, weight_g, 5, kids, mature_kg=weight_g // 1000, **{**MINIATURE, **fields})


def standard(kids: int = 2, weight_g: int = 60_000, **fields: Any) -> OneDoe:
    return OneDoe(BRED_ON, weight_g, 5, kids, mature_kg=weight_g // 1000, **{**STANDARD, **fields})


def told(doe: OneDoe, *days: int) -> dict[int, str]:
    """The prompt she is given on each day, "" where there is none."""
    return {day: code(doe.result(day)) for day in days}


def witness(doe: OneDoe, day: int) -> str:
    prompt = doe.result(day)["prompt"]
    return str(prompt["args"].get("witness", "")) if prompt else ""


def carrying(day: int, kids: int = 2, hay_g: int = 2000, **fields: Any) -> OneDoe:
    """60 kg, dry, mixed hay, scored 3 a few days ago."""
    doe = standard(kids, **fields)
    in_two_meals(doe, "pen", day - 30, alfalfa_grass_hay_50=hay_g)
    doe.fed_as_planned(day - 20, day)
    doe.scored(300, day - 20, day - 4)
    return doe


def fresh(day: int) -> OneDoe:
    """So many days after kidding on day 150."""
    doe = carrying(150)
    doe.log.add("kidded", "doe", {"born": 2, "alive": 2}, doe.on(150), "morning")
    doe.fed_as_planned(151, 150 + day)
    return doe
