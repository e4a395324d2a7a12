import json
from argparse import ArgumentParser
from collections.abc import Iterator
from typing import Any

from django.core.management.base import BaseCommand, CommandError

from herd.models import Event, Folded, Person
from herd.services.wire import decode, replay
from herd.state.order import text


class Command(BaseCommand):
    help = "Print what was recorded about one doe, in order: when, who, what, and what was put right."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("doe", help="her id, or her name")
        parser.add_argument("--farm", help="the farm's id, when two farms have a doe of that name")

    def handle(self, *args: Any, **options: Any) -> None:
        farm_id, doe_id = find(options["doe"], options["farm"])
        names = dict(Person.objects.filter(memberships__farm_id=farm_id).values_list("id", "name"))
        rows = Event.objects.filter(farm_id=farm_id, subject=doe_id).order_by("happened_ms", "hlc", "id")
        for row in rows:
            self.stdout.write("  ".join(told(row, names.get(row.author, row.author))))


def find(doe: str, farm_id: str | None) -> tuple[str, str]:
    rows = Folded.objects.filter(kind="doe", **({"farm_id": farm_id} if farm_id else {}))
    found = [row for row in rows if row.subject == doe or decode(row.json)["f"].get("name", "").lower() == doe.lower()]
    if len(found) != 1:
        raise CommandError("There is no such doe." if not found else "Several does have that name: give her id.")
    return found[0].farm_id, found[0].subject


def told(row: Event, who: str) -> Iterator[str]:
    event = replay(row.raw, row.eff)
    yield f"{row.on} {text(event, 'slot') or '-':8} #{row.seq:<6} {who:12} {row.kind:10}"
    said = json.dumps(event.get("data"), sort_keys=True, ensure_ascii=False, separators=(",", ":"))
    yield f"{said}  from {row.device[:8]}"
    if row.eff:
        yield f"clock put right: {row.eff}"
    if row.fold_status != "ok":
        yield f"{row.fold_status}, waits for {row.waits_for or 'a newer build'}"
