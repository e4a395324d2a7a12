"""What an outlook costs against its bare formulas: python -m tests.bench.compile [DOES].

Sixty does, every branch, sixty days and their spreads in one process, against numpy alone working the same formulas in
the same run; and whether twice the does take twice as long.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable, Iterator
from typing import Any

import numpy as np

from herd.outlook.compile import BEFORE_D, DAYS, FRESH_DAYS, compile_doe
from herd.outlook.compiling.facts import Facts, facts_of
from herd.outlook.rules import rules_of
from herd.science.dates.phase import lanes, phases
from tests.bench import plain
from tests.bench.table import Row
from tests.support.compiled import MINI, STANDARD, TODAY, bred, folded, fresh, scanned, scored, weighed

ROUNDS = 7
RULES = rules_of({})
COMPARED = (
    "me_kj",
    "cp_mg",
    "ca_mg",
    "p_mg",
    "maint_kj",
    "preg_me_kj",
    "preg_cp_mg",
    "preg_ca_mg",
    "preg_p_mg",
    "me_sd_kj",
    "floor_me_kj",
    "appetite_g",
    "milk_g",
)
Herd = list[dict[str, Any]]


def herd(does: int) -> Herd:
    """Carrying dry does and milkers of both sizes, no two of a weight, each with every branch of her kind."""
    made = []
    for i in range(does):
        f, kg = (MINI, 26 + i % 12) if i % 2 else (STANDARD, 52 + i % 20)
        state: dict[str, Any] = {"bred": bred(40 + 2 * (i % 50)), "check": scanned(1 + i % 3, 5)}
        state |= {"weights": weighed(kg), "scores": scored(300)}
        if i % 4 < 2:
            state |= {"kidded": fresh(200 + i), "kiddings": 3, "bred": bred(30 + i % 40)}
        made.append(folded(f, **state))
    return made


def compiled(does: Herd) -> list[dict[str, Any]]:
    return [dict(compile_doe(doe, {}, TODAY, f"doe{i}")) for i, doe in enumerate(does)]


def bare(does: Herd) -> list[dict[str, dict[str, list[int]]]]:
    return [bare_doe(facts_of(doe, RULES, TODAY.toordinal())) for doe in does]


def bare_doe(facts: Facts) -> dict[str, dict[str, list[int]]]:
    """The same branches and season from the same facts."""
    doe, served, milk = plain.doe_of(facts), facts.service, facts.milk
    assert served is not None
    on = np.arange(DAYS, dtype=np.float64) + facts.today - BEFORE_D
    kidded = float(milk.kidded or 10**7)
    stops = float(milk.dry_off or 10**7)
    made: dict[str, dict[str, list[int]]] = {}

    def track(name: str, on: Any, carries: bool, until: float) -> None:
        gest = np.where(on >= served.conception, on - served.conception, -1.0) if carries else np.full(on.shape, -1.0)
        in_milk = (on >= kidded) & (on < until)
        dim = np.where(in_milk, on - kidded, -1.0)
        kg = plain.milk_kg(doe, dim, milk.kids) * (milk.winding_down(on) if carries else 1.0)
        made[name] = plain.branch(doe, gest, dim, in_milk, kg, milk.kids or 2) | stages(facts, gest, dim, in_milk)

    track("as_is", on, True, stops)
    track("open", on, False, 10.0**7)
    if milk.in_milk:
        track("dry", on, True, 0.0)
    for kids in (1, 2, 3):
        dim = np.arange(FRESH_DAYS, dtype=np.float64)
        open_ = np.full(FRESH_DAYS, -1.0)
        bare = plain.branch(doe, open_, dim, dim >= 0, plain.milk_kg(doe, dim, kids), kids)
        made[f"kidded{kids}"] = bare | stages(facts, open_, dim, dim >= 0)
    track("season", np.arange(served.length, dtype=np.float64) + served.conception, True, stops)
    dim = np.arange(30, dtype=np.float64)
    fresh_kg = plain.milk_kg(doe, dim, min(3, max(1, round(served.litter))))
    made["season_fresh"] = plain.branch(doe, np.full(30, -1.0), dim, dim >= 0, fresh_kg, round(served.litter))
    return made


def stages(facts: Facts, gest: Any, dim: Any, in_milk: Any) -> dict[str, list[int]]:
    """Phase and lane; these are numpy alone in the product too."""
    phase = phases(gest, dim, in_milk, facts.first, facts.dried_in_pregnancy, facts.checked, facts.stages)
    return {"phase": phase.tolist(), "lane": lanes(gest, in_milk, False).tolist(), "gest": gest.astype(int).tolist()}


def farthest(ours: list[dict[str, Any]], theirs: list[dict[str, dict[str, list[int]]]]) -> int:
    """The largest difference of any figure of any branch, in its unit."""
    return max(
        int(np.max(np.abs(np.subtract(doc["branches"][name][figure], bare[name][figure]))))
        for doc, bare in zip(ours, theirs, strict=True)
        for name in doc["branches"]
        for figure in COMPARED
    )


def best_ms(jobs: dict[str, Callable[[], Any]], rounds: int) -> dict[str, float]:
    """The best of some rounds each, taken in turn so that a busy machine is busy for all of them."""
    best = dict.fromkeys(jobs, float("inf"))
    for _ in range(rounds):
        for name, job in jobs.items():
            start = time.perf_counter()
            job()
            best[name] = min(best[name], 1000 * (time.perf_counter() - start))
    return best


def rows(does: int = 60, rounds: int = ROUNDS) -> Iterator[Row]:
    many = herd(does)
    apart = farthest(compiled(many), bare(many))
    half = many[: max(1, does // 2)]
    jobs = {"ours": lambda: compiled(many), "bare": lambda: bare(many), "half": lambda: compiled(half)}
    best = best_ms(jobs, rounds)
    ours, theirs, linear = best["ours"], best["bare"], best["ours"] / does / (best["half"] / len(half))
    yield Row("compile", f"{does} does", ours, "ms", f"{ours / does:.2f} ms a doe")
    yield Row("compile", "the bare formulas", theirs, "ms", f"figures at most {apart} apart")
    yield Row("compile", "times the bare formulas", ours / theirs, "x", "goal within 3")
    yield Row("compile", "a doe of all against a doe of half", linear, "x", "linear is 1")


if __name__ == "__main__":
    from tests.bench.table import show

    print(show(list(rows(int(sys.argv[1]) if len(sys.argv) > 1 else 60))))
