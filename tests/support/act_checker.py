"""What no act may do, from the view, the feeds' values and her limits alone: nothing here asks the evaluator."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any

from herd.outlook.days import shift
from tests.support.some_does import TODAY

GRAIN = {"grain", "protein", "byproduct", "fat", "fodder"}
FORAGE = {"legume", "grass", "mixed"}
SLOTS = ("morning", "midday", "evening", "late")
GRAIN_DM_PM = 890
WASTE_PM = 150
CA_PER_P = 1.2
AHEAD_D = 28
LATE_DAY = 100
CUT = 0.9
# what is left over of a full feeder is not told apart
ABOUT = 0.97
ROUNDED_G = 2
PARTS = {"scoop": 4, "flake": 2}
SCALE_G = {True: 50, False: 25}


class Plan:
    """The amounts of a plan by day, for one doe who eats alone at her feeder, or does once she has moved."""

    def __init__(
        self, view: Mapping[str, Any], feeds: dict[str, Any], doe: str, lines: list[dict[str, Any]], pen: str = ""
    ) -> None:
        self.view, self.feeds, self.doe = view, feeds, doe
        self.pen = pen or view["does"][doe]["pen"]
        self.rations = {key: list(row["steps"]) for key, row in view["rations"].items()}
        for line in lines:
            key = "|".join((line["subject"], line["slot"], line["feed"]))
            first = line["steps"][0][0]
            self.rations[key] = [step for step in self.rations.get(key, []) if step[0] < first] + line["steps"]

    def meal(self, on: str, slot: str) -> list[tuple[str, float]]:
        """Feed and grams of dry matter that reach her."""
        found = []
        for key, steps in self.rations.items():
            subject, at, feed = key.split("|")
            g = [grams for start, grams in steps if start <= on][-1:]
            if at == slot and subject in (self.doe, self.pen) and g and g[0]:
                wasted = WASTE_PM if subject == self.pen and self.feeds[feed]["class"] in FORAGE else 0
                found.append((feed, g[0] * self.feeds[feed]["dm_pm"] / 1000 * (1000 - wasted) / 1000))
        return found

    def day(self, on: str) -> list[tuple[str, float]]:
        return [line for slot in SLOTS for line in self.meal(on, slot)]

    def grain(self, lines: list[tuple[str, float]]) -> float:
        return sum(g for feed, g in lines if self.feeds[feed]["class"] in GRAIN) * 1000 / GRAIN_DM_PM

    def forage(self, on: str) -> float:
        return sum(g for feed, g in self.day(on) if self.feeds[feed]["class"] in FORAGE)

    def total(self, on: str, value: str) -> float:
        return sum(g * (self.feeds[feed][value] or 0) for feed, g in self.day(on))

    def ca_per_p(self, on: str) -> float:
        p = self.total(on, "p_ug_g")
        return self.total(on, "ca_ug_g") / p if p else 9.0


def broken(
    view: Mapping[str, Any], feeds: dict[str, Any], outlook: Mapping[str, Any], doe: str, act: dict[str, Any]
) -> list[str]:
    """Every limit an act breaks that the plan without it keeps."""
    pen = (act.get("moves") or {}).get("pen", "")
    before, after = Plan(view, feeds, doe, []), Plan(view, feeds, doe, act["lines"], pen)
    days = [shift(TODAY, day) for day in range(1, AHEAD_D + 1)]
    milks = bool(view["does"][doe]["milks"])
    found = [f"{what} {on}" for on in days for what in of_day(before, after, outlook["limits"], milks, on)]
    found += too_fast(before, after, outlook["limits"], days)
    found += [f"late cut {on}" for on in days if late_cut(before, after, view, doe, on)]
    for line in act["lines"]:
        found += of_line(view, feeds, doe, line)
    return found


def of_day(before: Plan, after: Plan, limits: dict[str, int], milks: bool, on: str) -> list[str]:
    day_limit = limits["milk_grain_day_g" if milks else "grain_day_g"]
    most = {
        "grain a meal": (
            limits["grain_meal_g"],
            *(max(p.grain(p.meal(on, at)) for at in SLOTS) for p in (before, after)),
        ),
        "grain a day": (day_limit, *(p.grain(p.day(on)) for p in (before, after))),
    }
    least = {
        "forage": (limits["forage_floor_g"], before.forage(on), after.forage(on)),
        "Ca:P": (CA_PER_P, before.ca_per_p(on), after.ca_per_p(on)),
    }
    found = [what for what, (limit, was, now) in most.items() if now > max(limit, was) + ROUNDED_G]
    return found + [what for what, (limit, was, now) in least.items() if now < min(limit, was) * ABOUT]


def too_fast(before: Plan, after: Plan, limits: dict[str, int], days: list[str]) -> list[str]:
    """Raises of grain: no larger than a step, nor closer than its days, that were not planned anyway."""
    found, last = [], -limits["step_days"]
    for k, on in enumerate(days):
        rise = after.grain(after.day(on)) - after.grain(after.day(shift(on, -1)))
        planned = before.grain(before.day(on)) - before.grain(before.day(shift(on, -1)))
        if rise > ROUNDED_G and rise > planned + ROUNDED_G:
            if rise > limits["step_g"] + ROUNDED_G:
                found.append(f"step {on}")
            if k - last < limits["step_days"]:
                found.append(f"too soon {on}")
        if rise > ROUNDED_G:
            last = k
    return found


def late_cut(before: Plan, after: Plan, view: Mapping[str, Any], doe: str, on: str) -> bool:
    bred = view["does"][doe]["bred"]
    if not bred or (date.fromisoformat(on) - date.fromisoformat(bred["from"])).days < LATE_DAY:
        return False
    today, then = before.total(TODAY, "me_kj_kg"), after.total(on, "me_kj_kg")
    return then < today * CUT and then < before.total(on, "me_kj_kg") * ABOUT


def of_line(view: Mapping[str, Any], feeds: dict[str, Any], doe: str, line: dict[str, Any]) -> list[str]:
    feed, found = line["feed"], []
    refused = view["does"][doe]["f"].get("wont_eat", [])
    rising = line["steps"][-1][1] > line["from_g"]
    if rising and (feed in refused or feeds[feed].get("of") in refused):
        found.append(f"won't eat {feed}")
    if not feeds[feed]["me_kj_kg"]:
        found.append(f"unknown energy {feed}")
    if line["steps"][0][0] <= TODAY:
        found.append("begins before tomorrow")
    held = {g for _, g in view["rations"].get(f"{line['subject']}|{line['slot']}|{feed}", {}).get("steps", [])}
    wholes = parts(view, feeds, feed)
    odd = {g for _, g in line["steps"]} - held
    return found + [f"{g} g of {feed} is no whole part" for g in odd if not any(whole(g, of) for of in wholes)]


def whole(g: int, part: float) -> bool:
    return abs(g - round(g / part) * part) <= 1


def parts(view: Mapping[str, Any], feeds: dict[str, Any], feed: str) -> list[float]:
    """Quarter scoops and half flakes as they were weighed, and what a scale tells."""
    found: list[float] = [SCALE_G[feeds[feed]["class"] in FORAGE and not feeds[feed].get("l_g")]]
    for scoop, row in view["scoops"].items():
        if row["f"].get("feed") == feed:
            found += [mean(one) / PARTS["scoop"] for one in view["calibrations"].get(scoop, [])[-1:]]
    return found + [
        mean(one) / PARTS["flake"] for one in view["calibrations"].get(feed, [])[-1:] if one["of"] == "flake"
    ]


def mean(weighing: dict[str, Any]) -> float:
    return float(sum(weighing["fills_g"])) / len(weighing["fills_g"])
