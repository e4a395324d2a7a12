"""What a report's trouble is called, and the sentence that says what to check."""

from __future__ import annotations

from dataclasses import dataclass

PROBLEMS = {
    "unreadable": "{field} is not a plain number: check what is printed and leave out words and signs.",
    "no_figures": "No figure was found: enter at least the dry matter and one figure of a column.",
    "over_100": "{field} is over 100 %: check its unit, g/kg and ppm need to be said.",
    "moisture_and_dm": "Moisture and dry matter do not make 100: check which is which.",
    "dm_impossible": "Dry matter of {value} % is no feed: check that moisture was not written as dry matter.",
    "looks_like_moisture": "Hay with {value} % dry matter would be as wet as silage: check that it is not moisture.",
    "no_dm": "Only the as-received column is given: enter moisture or dry matter, or copy the dry matter column.",
    "columns_swapped": "{field} is higher as received than in dry matter: check that the columns are not swapped.",
    "columns_disagree": "{field} differs between the columns by more than rounding: check both figures.",
    "adf_above_ndf": "ADF is not below NDF, which holds it: check the two lines.",
    "lignin_above_adf": "Lignin is not below ADF, which holds it: check the two lines.",
    "parts_over_100": "Protein, NDF, fat and ash come to {value} %: check the column and the lines.",
    "cp_impossible": "{value} % protein is more than any forage holds: check the line and its unit.",
    "tdn_impossible": "TDN of {value} % is not possible for this feed: check the line and its column.",
    "ca_impossible": "{value} % calcium is more than limestone holds: check the unit, ppm needs to be said.",
    "p_impossible": "{value} % phosphorus is more than any feed holds: check the unit, ppm needs to be said.",
    "mineral_impossible": "{value} of {field} is more than its purest compound holds: check the unit.",
    "energy_unit": "{field} of {value} cannot be in that unit: check Mcal/lb, Mcal/kg or MJ/kg.",
    "unit_unknown": "The unit of {field} is not one a report uses: check it.",
}
NOTES = {
    "moisture_used": "Dry matter is 100 less moisture.",
    "dm_from_columns": "Dry matter worked out from the two columns of {field}.",
    "dm_unknown": "Dry matter is not given: weigh-ins as fed stay guesses until it is.",
    "from_as_received": "{field} turned from as received to dry matter.",
    "ppm": "{field} was in ppm: 10 000 ppm are 1 %.",
    "read_as_ppm": "{field} has no unit and is too large for per cent: read as ppm.",
    "g_kg": "{field} was in g/kg: 10 g/kg are 1 %.",
    "read_per_lb": "{field} has no unit and is within what a pound holds: read as Mcal/lb.",
    "read_per_kg": "{field} has no unit and is more than a pound holds: read as Mcal/kg.",
    "read_as_mj": "{field} has no unit and is too large for Mcal: read as MJ/kg.",
    "dm_low_for_hay": "Hay this moist heats and moulds: check moisture, and the bales.",
    "nitrate": "Protein over 25 % in a forage: ask for nitrate.",
    "soil": "Ash over 12 %: soil in it.",
    "ca_high": "Calcium over 3 % is more than alfalfa holds: check the line.",
    "tdn_unknown": "No TDN, and no equation of ours fits this feed: energy stays that of the feed it is like.",
    "tdn_from_fibre_only": "TDN from fibre alone may be 10 points off another way: the laboratory's own is better.",
}


@dataclass(frozen=True)
class Remark:
    """A problem (the report is refused) or a note (how a figure was read); value is text as it should be shown."""

    code: str
    field: str = ""
    value: str = ""

    @property
    def sentence(self) -> str:
        """In words, for a log or a page; a screen has words of its own by code."""
        words = PROBLEMS.get(self.code) or NOTES[self.code]
        return words.format(field=NAMES.get(self.field, self.field), value=self.value)


NAMES = {
    "dm": "Dry matter",
    "moisture": "Moisture",
    "cp": "Crude protein",
    "ndf": "NDF",
    "adf": "ADF",
    "lignin": "Lignin",
    "fat": "Fat",
    "ash": "Ash",
    "tdn": "TDN",
    "nel": "NEL",
    "me": "ME",
    "ca": "Calcium",
    "p": "Phosphorus",
    "mg": "Magnesium",
    "k": "Potassium",
    "na": "Sodium",
    "cl": "Chlorine",
    "s": "Sulfur",
    "cu": "Copper",
    "zn": "Zinc",
    "mn": "Manganese",
    "fe": "Iron",
    "co": "Cobalt",
    "i": "Iodine",
    "se": "Selenium",
    "mo": "Molybdenum",
}


def hundredths(v: int) -> str:
    """Ten-thousandths as text with two decimals, rounded half up."""
    steps = (2 * v + 100) // 200
    return f"{steps // 100}.{steps % 100:02d}"


def tenths(v: int) -> str:
    """Ten-thousandths as text with one decimal, rounded half up."""
    whole_tenths = (2 * v + 1000) // 2000
    return f"{whole_tenths // 10}.{whole_tenths % 10}"
