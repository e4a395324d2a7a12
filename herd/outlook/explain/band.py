"""The 80 % band as text: where it lies, what it is made of, and what a record would take off it."""

from __future__ import annotations

from typing import Any

from ..evaluate import FarmDay
from .eaten import name_of
from .words import NAMES, heading, table

ONE_FEED = {"cp": "cp_band_pm", "ca": "mineral_band_pm", "p": "mineral_band_pm"}
OF = {
    "feeder": "who ate what at the shared feeder",
    "amounts": "what a flake or scoop really weighs",
    "feed": "what is in",
    "maintenance": "what this doe needs to stay alive",
    "weight": "her weight",
    "kid_weight": "what each kid weighs",
    "conceptus": "what kids ask before they are born",
    "score": "one hand's score",
    "litter": "how many kids",
    "milk": "her milk",
}
ACTS = {"weigh": "weigh her", "scan": "have her kids counted", "weigh_milk": "weigh her milk", "test_feed": "test it"}


def band_text(farm: FarmDay, doe_id: str, result: dict[str, Any], nutrient: str) -> list[str]:
    """The band of the seven days, then for energy each doubt with its share and what removes it."""
    line = result["lines"].get(nutrient)
    if not line or not line["days"]:
        return []
    sure = "sure" if line["sure"] else "not sure: the band reaches level"
    lines = heading(f"How sure the {NAMES[nutrient]} ratio is")
    lines.append(f"  80 % band {line['lo']} to {line['hi']} permille about {line['pm']}; {line['st']}, {sure}")
    if nutrient != "me":
        rule = ONE_FEED[nutrient]
        text = f"herd rule {rule} = {farm.rules[rule]} permille for one untested feed, less where tested"
        return [*lines, f"  from each feed ({text}), her feeder, amounts, and what is not known of her"]
    rows: list[list[Any]] = [["doubt", "permille of it", "removed", "by"]]
    for row in farm.ask("doubts", doe_id):
        feed = f" {name_of(farm, row['feed'])}" if row["feed"] else ""
        rows.append([f"{OF[row['of']]}{feed}", row["pm"], row["removes_pm"], ACTS.get(row["act"], "nothing on record")])
    return [*lines, *table(rows)]
