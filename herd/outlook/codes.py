"""Closed lists that travel on the wire, as tables/codes.toml."""

from __future__ import annotations

from herd.state.tables import CODES as STATE_CODES

from .tables import CODES

NUTRIENTS = ("me", "cp", "ca", "p")
PHASES, LANES, BRANCHES, ASSUMED = (CODES[name] for name in ("phases", "lanes", "branches", "assumed"))
WITHHELD_LINES, WITHHELD_WHY = CODES["withheld_lines"], CODES["withheld_why"]
BREEDS = STATE_CODES["breeds"]
