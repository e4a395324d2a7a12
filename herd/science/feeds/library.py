"""The feed library: composition of 118 feeds and, for every figure, how it is known and from where.

A blank is unknown and stays None; it is never zero.
"""

from collections.abc import Mapping
from csv import DictReader
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from types import MappingProxyType

TABLES = Path(__file__).parent
CLASSES = ("legume", "grass", "mixed", "grain", "protein", "byproduct", "fat", "mineral", "fodder")
STANDINGS = ("READ", "MEMORY", "DERIVED", "ASSUMED")
NOT_FIGURES = ("feed_id", "name", "class", "note")
KJ_PER_MCAL = 4184


@dataclass(frozen=True)
class Origin:
    """How one figure is known: standing is one of STANDINGS, source a key of feed_sources.toml."""

    standing: str
    source: str


@dataclass(frozen=True)
class Feed:
    """One feed; figures are per cent or mg/kg of dry matter as their column says, dm_pct of the feed as fed."""

    id: str
    name: str
    feed_class: str
    note: str
    figures: Mapping[str, float]

    def scaled(self, column: str, factor: int) -> int | None:
        """Figure x factor rounded to a whole number, None when the figure is unknown."""
        figure = self.figures.get(column)
        return None if figure is None else round(figure * factor)

    @property
    def dm_pm(self) -> int | None:
        """Dry matter [g/kg as fed]."""
        return self.scaled("dm_pct", 10)

    @property
    def me_kj_kg(self) -> int | None:
        """Metabolizable energy [kJ/kg DM]."""
        return self.scaled("me_mcal_per_kg_dm", KJ_PER_MCAL)

    @property
    def cp_ug_g(self) -> int | None:
        """Crude protein [ug/g DM]."""
        return self.scaled("cp_pct_dm", 10_000)

    @property
    def ndf_pm(self) -> int | None:
        """Neutral detergent fibre [g/kg DM]."""
        return self.scaled("ndf_pct_dm", 10)

    @property
    def ca_ug_g(self) -> int | None:
        """Calcium [ug/g DM]."""
        return self.scaled("ca_pct_dm", 10_000)

    @property
    def p_ug_g(self) -> int | None:
        """Phosphorus [ug/g DM]."""
        return self.scaled("p_pct_dm", 10_000)


def table(name: str) -> list[dict[str, str]]:
    """Rows of one table beside the library."""
    with (TABLES / name).open(newline="", encoding="utf-8") as lines:
        return list(DictReader(lines))


def _feed_from(row: dict[str, str]) -> Feed:
    figures = {column: float(text) for column, text in row.items() if column not in NOT_FIGURES and text}
    return Feed(row["feed_id"], row["name"], row["class"], row["note"], MappingProxyType(figures))


@cache
def feeds() -> Mapping[str, Feed]:
    """All feeds by id."""
    return MappingProxyType({row["feed_id"]: _feed_from(row) for row in table("feeds.csv")})


@cache
def origins() -> Mapping[tuple[str, str], Origin]:
    """Origin of every figure by (feed id, column)."""
    known: dict[tuple[str, str], Origin] = {}
    for row in table("feeds_provenance.csv"):
        for column in row["columns"].split():
            known[row["feed_id"], column] = Origin(row["standing"], row["source"])
    return MappingProxyType(known)


def provenance(feed_id: str, column: str) -> Origin | None:
    """Origin of one figure, None where the figure is unknown."""
    return origins().get((feed_id, column))
