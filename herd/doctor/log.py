"""The log itself: texts against their digests, what is folded against the log, the database's look at its pages."""

from __future__ import annotations

import random
from collections.abc import Iterator

from django.db import connection
from django.db.migrations.executor import MigrationExecutor

from herd.models import Event, Farm, Folded
from herd.services.one_moment import one_moment
from herd.services.refold import folded_now
from herd.services.wire import digest

from .finding import BAD, FINE, NOT_SEEN, Finding

SAMPLE = 60
RESTORE = "Stop the server, keep a copy of the data folder, and restore the last good backup: phones fill in the rest."


def migrations() -> Iterator[Finding]:
    executor = MigrationExecutor(connection)
    plan = executor.migration_plan(executor.loader.graph.leaf_nodes())
    if plan:
        do = "Run migrate_safe, which `up` does by itself."
        yield Finding(BAD, "migrations", f"{len(plan)} changes of the tables were not made yet.", do)
    else:
        yield Finding(FINE, "migrations", "The tables are up to date.")


def pages() -> Iterator[Finding]:
    if connection.vendor != "sqlite":
        said = "PostgreSQL looks after its own: pg_amcheck does it for the whole database, which /healthz never reads."
        yield Finding(NOT_SEEN, "pages", said)
        return
    with connection.cursor() as cursor:
        found = [row[0] for row in cursor.execute("PRAGMA integrity_check(5)").fetchall()]
    if found != ["ok"]:
        yield Finding(BAD, "pages", f"The database file is damaged: {'; '.join(found)[:300]}.", RESTORE)
    else:
        said = "Every page of the database file is whole. Of a large one /healthz reads no more than the beginning."
        yield Finding(FINE, "pages", said)


def digests() -> Iterator[Finding]:
    count, wrong = 0, []
    with one_moment():
        rows = Event.objects.order_by("pk").values_list("farm_id", "id", "raw", "sha256")
        for farm, event, raw, taken_in in rows.iterator(chunk_size=2000):
            count += 1
            if digest(raw) != taken_in:
                wrong.append(f"{event} on farm {farm}")
    if wrong:
        said = f"{len(wrong)} of {count} entries are not what was taken in, the first {wrong[0]}."
        yield Finding(BAD, "entries", said, RESTORE)
    else:
        yield Finding(FINE, "entries", f"All {count} entries are what was taken in, to the byte.")


def folded() -> Iterator[Finding]:
    """A sample: what does, pens and feeds look like, against what their entries say."""
    for farm in Farm.objects.all():
        with one_moment():
            held = {(row.subject, row.kind): row.json for row in Folded.objects.filter(farm=farm)}
            subjects = {subject for subject, _ in held}
            some = set(random.sample(sorted(subjects), min(SAMPLE, len(subjects))))
            now, _ = folded_now(farm.pk, some)
        wrong = [key for key, json in held.items() if key[0] in some and now.get(key) != json]
        if wrong:
            said = f"{len(wrong)} of {len(some)} looked at on {farm.name} are not what their entries say."
            yield Finding(BAD, "tables", said, f"mangerline rebuild --farm {farm.pk}")
        else:
            yield Finding(FINE, "tables", f"{len(some)} of {len(subjects)} on {farm.name}: as their entries say.")
