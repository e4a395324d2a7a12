"""Shapes of the documents the server compiles and a phone evaluates. Whole numbers, text and dates as text only."""

from __future__ import annotations

from typing import Any, TypedDict


class Basis(TypedDict):
    """The recorded state it was compiled for; a phone compares and switches branch."""

    bred: str
    check: str
    dried: str
    kidded: str
    weight: str


class Who(TypedDict):
    size: str
    first: bool
    growing: bool
    keeper: str
    mass_g: int
    mass_from: str
    litter_x100: int
    litter_from: str
    kid_g: int


class Due(TypedDict):
    """Dates by which she has kidded with a chance of 2, 50 and 98 %, and the herd's printed date.

    ppm: chance in millionths that she kids on each day from day0 on.
    """

    early: str
    mid: str
    late: str
    printed: str
    day0: str
    ppm: list[int]


class Withheld(TypedDict):
    """A line that is silent and why; value, low and high are thousandths of the unit of `name`."""

    line: str
    why: str
    name: str
    value: int
    low: int
    high: int


class WithMilk(TypedDict):
    fcm_pm: int
    me_kj_per_kg_fcm: int
    cp_mg_per_kg_milk: int
    ca_mg_per_kg_milk: int
    p_mg_per_kg_milk: int
    appetite_g_per_kg_fcm: int


class WithIntake(TypedDict):
    cp_mg_per_kg_dm: int
    ca_mg_per_kg_dm: int
    p_mg_per_kg_dm: int


class WithCondition(TypedDict):
    me_kj_per_point: int
    me_kj_per_point_lost: int
    point_sd_pm: int
    score_sd_x100: int
    g_per_unit: int


class Drivers(WithMilk, WithIntake, WithCondition):
    """What one more unit of milk, intake or condition asks for."""


class Limits(TypedDict):
    """Grain in grams of dry-grain equivalent, forage in grams of dry matter."""

    grain_meal_g: int
    grain_day_g: int
    grain_day_pm: int
    milk_grain_day_g: int
    milk_grain_day_pm: int
    step_g: int
    step_days: int
    forage_floor_g: int


class Branch(TypedDict):
    """One state she can be in, one whole number per day; needs and appetite without the part that goes with milk."""

    phase: list[int]
    lane: list[int]
    gest: list[int]
    me_kj: list[int]
    cp_mg: list[int]
    ca_mg: list[int]
    p_mg: list[int]
    maint_kj: list[int]
    growth_kj: list[int]
    preg_me_kj: list[int]
    preg_cp_mg: list[int]
    preg_ca_mg: list[int]
    preg_p_mg: list[int]
    me_sd_kj: list[int]
    floor_me_kj: list[int]
    milk_g: list[int]
    appetite_g: list[int]
    band_lo: list[int]
    band_hi: list[int]
    plan_grain_g: list[int]
    plan_legume_pm: list[int]


class Season(TypedDict):
    """Conception to 30 days after due. Energy and appetite here include the milk to expect, so it draws as one line."""

    day0: str
    me_kj: list[int]
    floor_me_kj: list[int]
    phase: list[int]
    appetite_g: list[int]


class Step(TypedDict):
    on: str
    g: int


class RiskPart(TypedDict):
    """Risk points that stand still, [[code, points]], and the tables for those that change by the day."""

    toxemia: list[list[Any]]
    milk_fever: list[list[Any]]
    litter: list[list[Any]]
    counted: bool
    points: dict[str, int]
    edges: dict[str, int]


class Cites(TypedDict):
    """What ran for each term, as text: places in the reference's list, whose mark is `of`, a run of them as first-last,
    then the herd rules read. "330-332 335 late_day".

    "terms" hold in every branch. "branches" go in alphabetical order: a term stands only where it differs from the
    branch before, with nothing in it where nothing ran. "rules" are the values in force.
    """

    of: str
    rules: dict[str, int]
    terms: dict[str, str]
    branches: dict[str, dict[str, str]]


class Outlook(TypedDict):
    schema: int
    science: str
    doe: str
    rev: int
    compiled_on: str
    day0: str
    n: int
    basis: Basis
    who: Who
    due: Due | None
    assumed: list[str]
    withheld: list[Withheld]
    drivers: Drivers
    limits: Limits
    branches: dict[str, Branch]
    season: Season
    steps: list[Step]
    risk: RiskPart
    cites: Cites


class SignTable(TypedDict):
    """Log of what a look found, in thousandths, by minutes from the look to the first kid; new: for each gap."""

    present: list[int]
    absent: list[int]
    new: list[list[int]]


class Signs(TypedDict):
    """Signs of kidding as tables. lead_min are the points of each; gaps_h between the look before and this one.

    exp_ppb are e to the minus 1, 2, 4, 8... thousandths; least and most are what is shown. own: of signs whose timing
    is the farm's own, from how many kiddings, and its median in minutes.
    """

    lead_min: list[int]
    gaps_h: list[int]
    exp_ppb: list[int]
    least_pct: int
    most_pct: int
    of: dict[str, SignTable]
    own: dict[str, list[int]]


class Book(TypedDict):
    """Rules and feeds of a farm. A feed has name, class, composition per kg dry matter (None is unknown, never zero);
    a lot also has "of", the feed it is a lot of. Grazing: {light, half, full: [share of appetite, spread], permille}.
    """

    schema: int
    science: str
    doe: str
    rev: int
    rules: dict[str, int]
    grazing: dict[str, list[int]]
    signs: Signs
    feeds: dict[str, dict[str, str | int | None]]


class CardLine(TypedDict):
    """One element over the last days: micrograms per kg of dry matter; sources by feed, micrograms a day."""

    el: str
    ug_kg: int
    target: int | None
    most: int | None
    st: str
    sources: list[list[str | int]]
    blank: list[str]
    blank_pm: int


class CardAlert(TypedDict):
    code: str
    grade: str
    value: int
    limit: int
    at_least: bool
    sources: list[list[str | int]]


class WaterFigure(TypedDict):
    what: str
    ug_l: int
    band: str
    ug_d: int


class CardWater(TypedDict):
    on: str
    place: str
    drunk_l: int
    tested: list[WaterFigure]
    untested: list[str]


class HerdCard(TypedDict):
    """Minerals and water of the whole herd over the last week."""

    schema: int
    science: str
    doe: str
    rev: int
    compiled_on: str
    days: int
    does: int
    dm_g: int
    grain_pm: int
    stage: str
    sheep: bool
    water: CardWater | None
    lines: list[CardLine]
    alerts: list[CardAlert]


class YearsDoc(TypedDict):
    """What the years on the farm have shown; the rows are told in herd/outlook/years/document.py."""

    schema: int
    science: str
    doe: str
    rev: int
    compiled_on: str
    kiddings: int
    by: dict[str, int]
    does: list[list[str]]
    rows: list[list[Any]]
    years: list[list[Any]]
    lines: list[dict[str, Any]]
    told: list[dict[str, Any]]
    signs: list[dict[str, Any]]
    lengths: list[dict[str, Any]]


Document = Outlook | Book | HerdCard | YearsDoc
