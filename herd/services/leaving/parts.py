"""What belongs to a farm and goes with it. Whoever keeps more of a farm adds it here, and it leaves and comes too."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import IO

from django.db import models

from herd.models import Event, Quarantine, Ruling

from . import pictures

FORMAT, VERSION = "mangerline-farm", 1

# Tables of the farm, a row a line under log/, taken in again as they are. The log comes first.
LINES: dict[str, type[models.Model]] = {"entries": Event, "rulings": Ruling, "set_aside": Quarantine}


@dataclass(frozen=True, slots=True)
class Folder:
    """Files of a farm: `out` opens each of one farm's, `take` puts one in for another farm."""

    name: str
    out: Callable[[str], Iterator[tuple[str, IO[bytes]]]]
    take: Callable[[str, str, IO[bytes]], None]


FOLDERS: list[Folder] = [Folder("pictures", pictures.out, pictures.take)]
