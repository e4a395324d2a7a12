"""The tables of a farm for a person to read: one a kind, written in one walk through the log."""

from __future__ import annotations

import csv
from collections.abc import Iterator
from contextlib import ExitStack
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from herd.models import Author, Event, Farm, Folded, Membership
from herd.models.event import PARKED, REFUSED
from herd.services.wire import decode, replay
from herd.state import chains
from herd.state.kinds import CHAINS
from herd.state.order import Event as Fact
from herd.state.order import content, text

from .cells import columns_of, rows_of, safe

BASE = ("Date", "Time of day", "About", "Happened", "Written down", "By", "State")
END = ("Entry", "About (id)", "Number in the log")
# A table program knows by this that the letters are UTF-8.
BOM = "\ufeff"
WAITS, NO = "waits", "refused"


@dataclass(slots=True)
class Known:
    """What a row is told with: names, and what became of entries that others name."""

    zone: ZoneInfo
    people: dict[str, str]
    names: dict[str, str]
    corrected: dict[str, Fact] = field(default_factory=dict)
    voided: set[str] = field(default_factory=set)


def known_of(farm: Farm) -> Known:
    names = {row.subject: _name(row.json) for row in Folded.objects.filter(farm=farm).exclude(subject="")}
    known = Known(ZoneInfo(farm.zone), people_of(farm), {key: name for key, name in names.items() if name})
    named = _named(farm)
    settled = chains.settle(named)
    links = {event["id"] for event in named if event["kind"] in CHAINS}
    known.voided = set(settled.voided)
    raw = {event["id"]: event for event in named}
    known.corrected = {one["id"]: one for one in settled.live if one["id"] not in links and one != raw[one["id"]]}
    return known


def people_of(farm: Farm) -> dict[str, str]:
    written = {one.person: one.name for one in Author.objects.filter(farm=farm)}
    members = Membership.everyone.filter(farm=farm).select_related("person")
    return {**written, **{one.person_id: one.person.name for one in members}}


def write_sheets(farm: Farm, folder: Path) -> None:
    """A file a kind into the folder: KIND.csv."""
    known, made = known_of(farm), dict[str, Any]()
    with ExitStack() as files:
        for row in _log(farm):
            event = replay(row["raw"], row["eff"])
            kind = row["kind"]
            if kind not in made:
                made[kind] = _sheet(files, folder / f"{safe_name(kind)}.csv", kind)
            writer, keys = made[kind]
            for said in rows_of(known.corrected.get(event["id"], event), known.names):
                cells = [said.get(key, "") for key in keys] if keys != ["data"] else [safe(row["raw"])]
                writer.writerow([*_base(known, row, event), *cells, event["id"], row["subject"], row["seq"]])


def safe_name(kind: str) -> str:
    """An unknown kind is any text; a file's name is not."""
    return "".join(letter if letter.isascii() and (letter.isalnum() or letter == "_") else "_" for letter in kind)[:40]


def _sheet(files: ExitStack, path: Path, kind: str) -> tuple[Any, list[str]]:
    file = files.enter_context(path.open("a", encoding="utf-8", newline=""))
    writer, columns = csv.writer(file), columns_of(kind)
    file.write(BOM)
    writer.writerow([*BASE, *(label for _, label in columns), *END])
    return writer, [key for key, _ in columns]


def _base(known: Known, row: dict[str, Any], event: Fact) -> list[str]:
    counts = known.corrected.get(event["id"], event)
    about, on, slot = known.names.get(row["subject"], ""), text(counts, "on"), text(counts, "slot")
    times = [_time(known.zone, counts.get("happened")), _time(known.zone, event.get("entered"))]
    return [safe(on), safe(slot), safe(about), *times, safe(known.people.get(row["author"], "")), _state(known, row)]


def _state(known: Known, row: dict[str, Any]) -> str:
    if row["fold_status"] in (PARKED, REFUSED):
        return WAITS if row["fold_status"] == PARKED else NO
    if row["id"] in known.voided:
        return "taken back"
    return "counts, corrected" if row["id"] in known.corrected else "counts"


def _time(zone: ZoneInfo, ms: Any) -> str:
    try:
        return datetime.fromtimestamp(ms / 1000, UTC).astimezone(zone).strftime("%Y-%m-%d %H:%M")
    except (TypeError, ValueError, OverflowError, OSError):
        return ""


def _name(folded: str) -> str:
    fields = decode(folded).get("f")
    name = fields.get("name") if isinstance(fields, dict) else ""
    return name if isinstance(name, str) else ""


def _log(farm: Farm) -> Iterator[dict[str, Any]]:
    wanted = ("seq", "id", "kind", "subject", "raw", "eff", "author", "fold_status")
    yield from Event.objects.filter(farm=farm).order_by("seq").values(*wanted).iterator(chunk_size=2000)


def _named(farm: Farm) -> list[Fact]:
    """Voids and corrections, and what they name."""
    counted = Event.objects.filter(farm=farm).exclude(fold_status__in=(PARKED, REFUSED))
    links = [replay(raw, eff) for raw, eff in counted.filter(kind__in=CHAINS).values_list("raw", "eff")]
    ids = sorted({text(content(link), "of") for link in links} - {link["id"] for link in links})
    targets: list[Fact] = []
    for first in range(0, len(ids), 500):
        rows = counted.filter(id__in=ids[first : first + 500]).values_list("raw", "eff")
        targets += [replay(raw, eff) for raw, eff in rows]
    return [*links, *targets]
