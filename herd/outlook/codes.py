"""Closed lists that travel on the wire. Append only; a number or word is never reused."""

from __future__ import annotations

NUTRIENTS = ("me", "cp", "ca", "p")
PHASES = (
    "open",
    "exposed",
    "settled",
    "carrying_in_milk",
    "drying_off",
    "dry",
    "close_up",
    "kidding_watch",
    "fresh",
    "in_milk",
    "growing",
)
LANES = ("in_milk", "grown_dry", "first_freshener", "open")
BRANCHES = ("as_is", "dry", "open", "kidded1", "kidded2", "kidded3")
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
ASSUMED = (
    "size_standard",
    "breed_unknown",
    "mass_by_class",
    "mass_by_tape",
    "conceptus_taken_off",
    "mature_by_breed",
    "age_unknown",
    "kidded_before",
    "litter_not_counted",
    "kid_weight_by_mass",
    "fat_by_breed",
    "milk_by_breed",
    "kidding_date_unknown",
    "dry_off_by_rule",
    "past_due_held_at_term",
    "service_window",
    "milk_held_at_its_last_day",
)
WITHHELD_LINES = ("amounts",)
WITHHELD_WHY = ("out_of_range", "missing", "buck")
