"""The numbers of tables/years.toml."""

from __future__ import annotations

from ..tables import YEARS

N: dict[str, int] = {name: row["value"] for name, row in YEARS["numbers"].items()}
LEADS: dict[str, dict[str, float]] = YEARS["leads"]["signs"]
