"""Which of our equations answers for which row: the word in a table's `what` column, in that row's units."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from tests.published.of_body import BODY
from tests.published.of_breeds import BREEDS
from tests.published.of_defaults import DEFAULTS
from tests.published.of_kidding import KIDDING
from tests.published.of_more import MORE
from tests.published.of_needs import NEEDS
from tests.published.of_rations import RATIONS
from tests.published.of_signs import SIGNS
from tests.published.of_systems import SYSTEMS

EQUATIONS: Mapping[str, Any] = {**BODY, **BREEDS, **DEFAULTS, **NEEDS, **SYSTEMS, **RATIONS, **MORE, **SIGNS, **KIDDING}
