"""What is tried beyond the daily round, when somebody asks for it: MANGERLINE_THOROUGH=1."""

from __future__ import annotations

import os

THOROUGH = os.environ.get("MANGERLINE_THOROUGH") == "1"


def times(name: str, daily: int, thorough: int) -> int:
    """How often something drawn at random is tried; NAME in the environment says it outright."""
    return int(os.environ.get(name, thorough if THOROUGH else daily))
