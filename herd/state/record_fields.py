"""The fields of the records people keep: does, pens, feeds, lots, scoops, jars, people to ring, and herd rules."""

from __future__ import annotations

import re
from typing import Any

from .checks import Check, choice, day, feed_ref, feed_refs, flag, or_blank, or_unknown, or_zero, text, whole
from .kinds import CARDS

SIZES = ("standard", "mini")
SEXES = ("doe", "buck")
CONTACT_ROLES = ("owner", "family", "vet", "second_vet", "neighbour", "other")
BREEDS = (
    "alpine",
    "saanen",
    "toggenburg",
    "nubian",
    "lamancha",
    "oberhasli",
    "sable",
    "grade",
    "boer",
    "angora",
    "pygmy",
    "nigerian_dwarf",
    "mini_cross",
    "unknown",
)
MAJORS = (("mg", "Magnesium"), ("k", "Potassium"), ("na", "Sodium"), ("cl", "Chloride"), ("s", "Sulfur"))
TRACES = (
    ("cu", "Copper"),
    ("zn", "Zinc"),
    ("mn", "Manganese"),
    ("fe", "Iron"),
    ("co", "Cobalt"),
    ("i", "Iodine"),
    ("se", "Selenium"),
    ("mo", "Molybdenum"),
)
FEED_CLASSES = ("legume", "grass", "mixed", "grain", "protein", "byproduct", "fat", "mineral", "fodder")
TDN_WAYS = (
    "",
    "summative",
    "california",
    "oklahoma",
    "lab",
    "me",
    "nel",
    "fibre_legume",
    "fibre_corn_silage",
    "unknown",
)
ORDER = whole("The place in the list", 0, 100_000)
COMPOSITION: dict[str, Check] = {
    "dm_pct_x10": or_unknown(whole("Dry matter (tenths of a per cent)", 10, 1_000)),
    "tdn_pct_x10": or_unknown(whole("TDN (tenths of a per cent)", 0, 2_000)),
    "cp_pct_x10": or_unknown(whole("Crude protein (tenths of a per cent)", 0, 3_000)),
    "ndf_pct_x10": or_unknown(whole("NDF (tenths of a per cent)", 0, 1_000)),
    "ca_pct_x100": or_unknown(whole("Calcium (hundredths of a per cent)", 0, 4_100)),
    "p_pct_x100": or_unknown(whole("Phosphorus (hundredths of a per cent)", 0, 3_200)),
    **{
        f"{name}_pct_x100": or_unknown(whole(f"{label} (hundredths of a per cent)", 0, 10_000))
        for name, label in MAJORS
    },
    **{
        f"{name}_ppm_x100": or_unknown(whole(f"{label} (hundredths of a ppm)", 0, 100_000_000))
        for name, label in TRACES
    },
    "uip_pct_x10": or_unknown(whole("Undegraded protein (tenths of a per cent of protein)", 0, 1_000)),
    "tdn_by": choice("How TDN was found", TDN_WAYS),
    "lab_column": choice("The column of the report", ("", "received", "dry", "both")),
    "lab_on": or_blank(day("The date of the report")),
}
SPROUTS: dict[str, Check] = {
    "sprout_of": or_blank(feed_ref("The grain soaked")),
    "sprout_grain_g": or_zero(whole("Grams of grain soaked", 10, 200_000)),
    "sprout_days": or_zero(whole("Days grown", 1, 8)),
    "sprout_tray_g": or_zero(whole("Grams of the whole tray", 10, 2_000_000)),
}
RECORD_FIELDS: dict[str, dict[str, Check]] = {
    "doe": {
        "name": text("The name", 1, 40),
        "sex": choice("Doe or buck", SEXES),
        "size": choice("The size", SIZES),
        "breed": choice("The breed", BREEDS),
        "born_on": or_blank(day("The birth date")),
        "mature_kg": or_zero(whole("Grown weight in kilograms", 10, 140)),
        "keeper": choice("Keeper", ("easy", "even", "hard")),
        "growing": or_unknown(flag("Still growing")),
        "kiddings_before": whole("Kiddings before", 0, 20),
        "order": ORDER,
        "tag": text("The tag", 0, 40),
        "fat_x100": whole("Milk fat", 0, 1_500),
        "wont_eat": feed_refs("Feeds she will not eat"),
        "had_toxemia": flag("Had pregnancy toxemia before"),
        "had_milk_fever": flag("Had milk fever before"),
    },
    "pen": {
        "name": text("The name", 1, 40),
        "order": ORDER,
        "waste_pm": whole("Waste at the feeder", 0, 600),
        "activity_pm": whole("Activity", 1_000, 1_600),
        "role": choice("The pen is for", ("milkers", "mixed", "first", "close_up", "other")),
    },
    "feed": {
        "name": text("The name", 1, 60),
        "like": or_blank(feed_ref("The feed it is like")),
        "class": or_blank(choice("The class", FEED_CLASSES)),
        "free_choice": flag("Put out to take at will"),
        "free_g_x10": or_unknown(whole("Eaten a doe a day (tenths of a gram)", 0, 5_000)),
        **SPROUTS,
        **COMPOSITION,
    },
    "lot": {
        "name": text("The name", 1, 60),
        "feed": feed_ref("The feed"),
        "flake_g": whole("Grams a flake", 0, 30_000),
        "opened_on": or_blank(day("The day it was opened")),
        "use_by_d": whole("Days it keeps once opened", 0, 60),
        **COMPOSITION,
    },
    "contact": {
        "name": text("The name", 1, 60),
        "role": choice("Who it is", CONTACT_ROLES),
        "phone": text("The phone number", 0, 40),
        "order": ORDER,
    },
    "shelf": {
        "card": choice("The card", CARDS),
        "told": text("What your vet wrote", 0, 1_000),
        "product": text("What stands on the shelf", 0, 80),
        "place": text("Where it stands", 0, 80),
        "expires_on": or_blank(day("The date on the label")),
        "gone": flag("Used up or thrown out"),
    },
    "scoop": {
        "name": text("The name", 1, 40),
        "feed": feed_ref("The feed"),
        "order": ORDER,
        "gone": flag("No longer used"),
    },
    "jar": {
        "name": text("The name", 0, 40),
        "feed": feed_ref("The grain soaked"),
        "dry_g": whole("Grams of dry grain", 1, 200_000),
        "soaked_on": day("The day it was soaked"),
        "days": whole("Days until it is fed", 1, 14),
        "done_on": or_blank(day("The day it was fed")),
        "thrown": flag("Thrown out"),
    },
}

RULE_NAME = re.compile(r"[a-z][a-z0-9_]{0,40}")
ANY_RULE = whole("The rule's value", -1_000_000_000, 1_000_000_000)
ANY_RULE_TEXT = text("The rule's value", 0, 60)


def rule_problem(name: str, value: Any) -> str | None:
    """A number or a short word. The table of herd rules owns the names and ranges, and a later room checks them."""
    if not RULE_NAME.fullmatch(name):
        return "That is not the name of a herd rule: update the app."
    return ANY_RULE_TEXT(value) if isinstance(value, str) else ANY_RULE(value)
