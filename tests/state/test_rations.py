"""The few ration entries that say what is fed from a date on, beside all of them."""

from __future__ import annotations

from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from herd.state.rations import amount_on, telling, write_ration

DAYS = [f"2026-03-{day:02}" for day in range(1, 13)]
steps = st.lists(st.tuples(st.sampled_from(DAYS), st.integers(0, 9)), max_size=3)
events = st.lists(st.tuples(st.sampled_from(["ivy", "moss"]), st.sampled_from(["morning", "evening"]), steps))


def ration(n: int, subject: str, slot: str, given: list[tuple[str, int]]) -> dict[str, Any]:
    data = {"slot": slot, "feed": "oats", "steps": [{"on": on, "g": g} for on, g in given], "base": ""}
    return {"id": str(n), "hlc": f"{n:03}", "kind": "ration", "subject": subject, "data": data}


def fed(sets: list[dict[str, Any]]) -> dict[str, list[int]]:
    held: dict[str, Any] = {}
    for one in sets:
        write_ration(held, one, {})
    return {key: [amount_on(row["steps"], on) for on in DAYS] for key, row in held.items()}


@given(events, st.integers(0, len(DAYS) - 1))
def test_the_few_say_the_same_from_the_date_on(rows: list[Any], first: int) -> None:
    sets = [ration(n, *row) for n, row in enumerate(rows)]
    few, every = fed(telling(sets, DAYS[first])), fed(sets)
    assert {key: grams[first:] for key, grams in few.items()} == {key: every[key][first:] for key in few}
    assert all(not any(grams[first:]) for key, grams in every.items() if key not in few)


def test_years_of_monthly_plans_come_down_to_one() -> None:
    sets = [ration(n, "ivy", "morning", [(DAYS[n], n)]) for n in range(12)]
    assert [one["id"] for one in telling(sets, DAYS[-1])] == ["11"]
    assert [one["id"] for one in telling(sets, DAYS[9])] == ["9", "10", "11"]
