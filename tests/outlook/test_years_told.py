"""What is said of feed and kiddings, and of lines: an effect that is there is said, chance alone says nothing."""

from __future__ import annotations

import random

import pytest

from herd.outlook.years.kiddings import Kidding
from herd.outlook.years.lines import keepers, line_of
from herd.outlook.years.numbers import N
from herd.outlook.years.seasons import Fed, Season
from herd.outlook.years.told import MEASURES, Sides, comparisons

FARMS = 300


def season(
    doe: str, year: int, late: Fed, alive: int = 2, helped: int = 0, ill: int = 0, early: Fed | None = None
) -> Season:
    kid = Kidding(doe, f"{year}-04-01", 2, alive, 0, f"{year - 1}-11-03", 150, helped, 0, 0)
    phases = {"early": early or Fed(100, 90, 90 * 1800, 0, 0), "late": late, "fresh": Fed(60)}
    return Season(kid, phases, kid.bred_on, scores={"bred": 300, "kid": 300}, ill=ill)


def late_of(dice: random.Random, grain_g: float | None = None) -> Fed:
    hay = 45 * dice.uniform(1200, 2400)
    grain = 45 * (dice.uniform(0, 700) if grain_g is None else grain_g)
    return Fed(50, 45, hay, grain, hay * dice.random())


def noise(seed: int, does: int = 20, years: int = 4) -> list[Season]:
    dice = random.Random(seed)
    return [
        season(
            f"doe{n}",
            2020 + year,
            late_of(dice),
            2 - (dice.random() < 0.2),
            int(dice.random() < 0.3),
            int(dice.random() < 0.1),
        )
        for n in range(does)
        for year in range(years)
    ]


SIZES = {f"doe{n}": "standard" for n in range(60)}


def said(rows: list[Season]) -> list[tuple[str, str]]:
    return [(one["measure"], one["end"]) for one in comparisons(rows, SIZES) if one["say"] == "clear"]


def test_chance_alone_says_nothing_on_nearly_every_farm() -> None:
    """Nine things are looked at: of a hundred farms of eighty kiddings about one is told what is not there."""
    wrong = sum(bool(said(noise(seed))) for seed in range(FARMS))
    assert wrong <= FARMS / 50


@pytest.mark.parametrize("seed", range(10))
def test_a_difference_that_is_there_is_said_and_none_beside_it(seed: int) -> None:
    dice, rows = random.Random(seed), []
    for n in range(60):
        much = n % 2 == 0
        late = late_of(dice, dice.uniform(450, 700) if much else dice.uniform(0, 250))
        rows.append(season(f"doe{n % 20}", 2020 + n // 20, late, ill=int(dice.random() < (0.05 if much else 0.75))))
    assert said(rows) == [("grain", "well")]
    [row] = [one for one in comparisons(rows, SIZES) if (one["measure"], one["end"]) == ("grain", "well")]
    more_n, more_good, less_n, less_good = row["sides"]
    assert (more_n, less_n, more_good > less_good) == (30, 30, True)
    assert 200 < row["cut"] < 500


def test_few_kiddings_are_too_few_whatever_they_show() -> None:
    dice = random.Random(1)
    rows = [season(f"doe{n}", 2025, late_of(dice, 600 if n % 2 else 0), helped=n % 2) for n in range(18)]
    assert {one["say"] for one in comparisons(rows, SIZES)} == {"few"}
    assert comparisons([], SIZES)[0]["sides"] == [0, 0, 0, 0]


def test_what_nobody_looked_at_counts_for_neither_side() -> None:
    dice = random.Random(2)
    rows = [season(f"doe{n}", 2025, late_of(dice), helped=-1, ill=-1) for n in range(40)]
    assert {one["end"]: one["say"] for one in comparisons(rows, SIZES)} == {
        "alive": "none",
        "unhelped": "few",
        "well": "few",
    }


def test_a_season_with_few_days_of_feed_says_nothing_of_feed() -> None:
    rows = [season(f"doe{n}", 2025, Fed(50, 20, 20_000, 10_000, 0)) for n in range(60)]
    assert {one["say"] for one in comparisons(rows, SIZES)} == {"few"}


@pytest.mark.parametrize(
    ("sides", "clear"),
    [((20, 18, 20, 6), True), ((20, 14, 20, 9), False), ((10, 10, 10, 0), True), ((10, 9, 10, 5), False)],
)
def test_the_rule_of_its_error(sides: tuple[int, int, int, int], clear: bool) -> None:
    assert Sides(*sides).clear is clear


def of_line(seed: int, easy_pm: int) -> list[Season]:
    """Five lines of three does over three years; the first line is fed so much away from the others."""
    dice, rows = random.Random(seed), []
    for n in range(15):
        for year in range(3):
            much = (1 + (easy_pm / 1000 if n < 3 else 0)) * dice.gauss(1, 0.06)
            early, late = (
                Fed(100, 95, 95 * 1700 * much, 95 * 100 * much, 0),
                Fed(50, 48, 48 * 1700 * much, 48 * 100 * much, 0),
            )
            rows.append(season(f"doe{n}", 2022 + year, late, early=early))
    return rows


LINES = {f"doe{n}": f"line{n // 3}" for n in range(15)}


@pytest.mark.parametrize("seed", range(10))
def test_a_line_that_holds_on_a_fifth_less_is_named_with_the_seasons_behind_it(seed: int) -> None:
    found = keepers(of_line(seed, -200), LINES, SIZES)
    easy = found["line0"]
    assert [line for line, one in found.items() if one.said] == ["line0"]
    assert (easy.n, easy.seasons) == (9, 3)
    assert -N["line_most_pm"] <= easy.away_pm <= -140


def test_lines_that_are_all_alike_are_not_named() -> None:
    assert sum(one.said for seed in range(100) for one in keepers(of_line(seed, 0), LINES, SIZES).values()) == 0


def test_one_season_of_a_line_is_not_enough() -> None:
    rows = [one for one in of_line(1, -200) if one.kidding.on.startswith("2022")]
    assert not any(one.said for one in keepers(rows, LINES, SIZES).values())


def test_a_doe_that_did_not_hold_her_condition_tells_nothing_of_keeping() -> None:
    rows = of_line(1, -200)
    for one in rows:
        one.scores["kid"] = 225
    assert keepers(rows, LINES, SIZES) == {}


def test_a_line_goes_back_to_the_first_dam_that_is_known_and_never_in_a_ring() -> None:
    kids = {
        "k1": {"f": {"dam": "a", "grown": "b"}},
        "k2": {"f": {"dam": "b", "grown": "c"}},
        "k3": {"f": {"dam": "e", "grown": "d"}},
        "k4": {"f": {"dam": "d", "grown": "e"}},
        "k5": {"f": {"dam": "gone", "grown": "f"}},
    }
    does = dict.fromkeys("abcdef")
    lines = line_of({"kids": kids, "does": does})
    assert [lines[one] for one in "abcf"] == ["a", "a", "a", "f"]
    assert {*lines.values()} >= {"a", "f"}


def test_measures_are_by_the_day() -> None:
    fed = Fed(50, 40, 60_000, 20_000, 15_000)
    assert [MEASURES[name](fed) for name in ("grain", "hay", "legume")] == [500, 1500, 250]
    assert MEASURES["legume"](Fed(50, 40)) is None
