"""A case of a doe off her feed: what was left since she last cleaned up, and what those who looked at her found."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from .context import Context, shift

Row = dict[str, Any]
# in the order of how much each means
WATCH_HOWS = ("left_some", "slow", "refused", "not_up")
GOES_ON = ("same", "worse", "down", "vet_called")
LOUDER = ("worse", "down")
# a case somebody looks after is not forgotten over a weekend
BACK_D = 6


@dataclass(frozen=True)
class Case:
    """`meals` are the open ones, each with what was left of it; `looks` what was found since, in order."""

    meals: list[list[Row]]
    looks: list[Row]

    @property
    def last(self) -> Row:
        """The worst that was seen at the last meal."""
        return max(self.meals[-1], key=lambda one: (WATCH_HOWS.index(one["how"]), one["happened"], one["ev"]))

    @property
    def since_ms(self) -> int:
        return min(int(one["happened"]) for meal in self.meals for one in meal)

    @property
    def clock_ms(self) -> int:
        """From when the next look is counted: the last meal, or a look that found her no better."""
        looked = [one["happened"] for one in self.looks if one["result"] in GOES_ON]
        return int(max(*(one["happened"] for one in self.meals[-1]), *looked, 0))

    @property
    def down(self) -> bool:
        """Not up, or found down, and not seen at the feeder since."""
        seen = [(one["happened"], one["ev"], one["how"] == "not_up") for meal in self.meals for one in meal]
        seen += [(one["happened"], one["ev"], True) for one in self.looks if one["result"] == "down"]
        return bool(max(seen)[2])

    @property
    def vet_ms(self) -> int:
        """When the vet was called, unless she got worse since; 0 when not."""
        called = [one["happened"] for one in self.looks if one["result"] == "vet_called"]
        worse = [one["happened"] for one in self.looks if one["result"] in LOUDER]
        worse += [one["happened"] for meal in self.meals for one in meal if one["how"] == "not_up"]
        return int(called[-1]) if called and max(worse, default=0) <= called[-1] else 0


def case_of(ctx: Context, doe_id: str) -> Case | None:
    """Her open case, or None. A later "ate all", "eating", or a later clean feeding of her own closes it.

    One not up, down or worse is closed by "eating" alone: "all up and eating" may come from a phone that has not heard.
    """
    days = [shift(ctx.day, -back) for back in range(BACK_D, -1, -1)]
    hers = [one for on in days for one in ctx.intakes.get(on, []) if one["subject"] == doe_id]
    looks = [one for one in ctx.view["does"][doe_id]["triages"] if days[0] <= one["on"] <= ctx.day]
    eating_at = max((one["happened"] for one in looks if one["result"] == "eating"), default=0)
    looks = [one for one in looks if one["happened"] > eating_at]
    left = [one for one in hers if one["how"] in WATCH_HOWS and one["happened"] > eating_at]
    if not (any(one["how"] == "not_up" for one in left) or any(one["result"] in LOUDER for one in looks)):
        ate = [one for one in hers if one["how"] == "ate_all"]
        left = [one for one in left if not any(_cleared(one, meal) for meal in ate)]
        looks = [one for one in looks if not any(meal["happened"] > one["happened"] for meal in ate)]
    left += [_as_seen(one) for one in looks if one["result"] == "down" and not left]
    left.sort(key=lambda one: (one["happened"], one["ev"]))
    if not left:
        return None
    looks = [one for one in looks if one["happened"] >= left[0]["happened"]]
    if not (any(one["how"] == "not_up" for one in left) or any(one["result"] in GOES_ON for one in looks)):
        left = [one for one in left if one["on"] >= days[-2]]
        if not left or _fed_clean_since(ctx, doe_id, left[-1]):
            return None
        looks = [one for one in looks if one["happened"] >= left[0]["happened"]]
    return Case(_by_meal(left), looks)


def _cleared(left: Row, ate: Row) -> bool:
    """Eaten up since, at another meal or as whoever saw it says: two who differ about one meal leave it open."""
    return ate["happened"] > left["happened"] and (ate["author"] == left["author"] or meal_of(ate) != meal_of(left))


def _as_seen(look: Row) -> Row:
    """A doe found down that nobody had seen leave anything."""
    return {**look, "how": "not_up", "slot": "", "left_pm": 0, "feed": ""}


def _by_meal(left: list[Row]) -> list[list[Row]]:
    """The last thing said about each feed of each meal."""
    meals: dict[str, dict[str, Row]] = {}
    for one in left:
        meals.setdefault(meal_of(one), {})[one["feed"]] = one
    return [list(feeds.values()) for feeds in meals.values()]


def _fed_clean_since(ctx: Context, doe_id: str, intake: Row) -> bool:
    for on in (shift(ctx.day, -1), ctx.day):
        for feeding in ctx.feedings.get(on, []):
            other = meal_of({"on": on, "slot": feeding["slot"]}) != meal_of(intake)
            hers = any(to == doe_id and g > 0 for to, _, g in feeding["lines"])
            if feeding["happened"] > intake["happened"] and other and hers:
                return True
    return False


def meal_of(one: Row) -> str:
    """Date and time of day of a meal, as one word."""
    return f"{one['on']}|{one['slot']}"
