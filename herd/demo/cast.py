"""Who lives and works on the demo farm. All invented. Days are counted back from today; what lies ahead is negative."""

from __future__ import annotations

from dataclasses import dataclass

START = 90
OWNER, FAMILY, HELPER = "Odette", "Jory", "Mirrin"
FARM, SECOND_FARM = "Tumblegate", "Far Paddock"

Steps = tuple[tuple[int, int], ...]
Stand = tuple[str, str, Steps]


@dataclass(frozen=True, slots=True)
class Pen:
    """`blend` is (from day, {hay: permille of the pen's hay})."""

    key: str
    name: str
    role: str
    waste_pm: int
    blend: tuple[tuple[int, dict[str, int]], ...]


@dataclass(frozen=True, slots=True)
class Doe:
    """`hay` is her part of the pen's hay a day, `stand` what is hers alone; scores are (day, score)."""

    key: str
    breed: str
    size: str
    born: int
    kg: float
    kiddings: int
    pens: tuple[tuple[int, str], ...]
    hay: Steps
    scores: Steps
    stand: tuple[Stand, ...] = ()
    bred: tuple[int, int] | None = None
    scanned: tuple[int, int] | None = None
    kidded: tuple[int, int] | None = None
    dried: int | None = None
    milk_g: int = 0
    mature_kg: int = 0
    keeper: str = "even"
    came: int = START

    @property
    def name(self) -> str:
        return self.key.capitalize()


MEADOW, SECOND_CUT, ALFALFA = "meadow", "second_cut", "alfalfa"
MIX, BARLEY, PELLETS = "mix", "barley_rolled", "alfalfa_pellets_suncured"
RICHER = {MEADOW: 100, SECOND_CUT: 900}
PENS = (
    Pen("parlour", "Parlour side", "milkers", 120, ((START, {MEADOW: 600, ALFALFA: 400}),)),
    Pen(
        "long",
        "Long feeder",
        "mixed",
        150,
        ((START, {MEADOW: 700, SECOND_CUT: 300}), (-4, {MEADOW: 100, SECOND_CUT: 900})),
    ),
    Pen("young", "Young pen", "first", 120, ((START, {MEADOW: 300, SECOND_CUT: 700}),)),
    Pen("straw", "Straw barn", "close_up", 120, ((START, {MEADOW: 800, ALFALFA: 200}),)),
)


def milking(feed: str, *steps: tuple[int, int]) -> tuple[Stand, Stand]:
    """The same on the stand morning and evening."""
    return ("morning", feed, steps), ("evening", feed, steps)
