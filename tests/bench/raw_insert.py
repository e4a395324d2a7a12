"""The bare floor for a push: COUNT rows of the log, taken out and put back by one executemany in one transaction."""

from __future__ import annotations

import json
import sys
import time


def main(count: int) -> float:
    from django.db import connection, transaction

    with connection.cursor() as cursor:
        cursor.execute("SELECT * FROM herd_event ORDER BY seq DESC LIMIT %s", [count])
        rows = cursor.fetchall()
        names = [column[0] for column in cursor.description]
        columns, spots = ", ".join(f'"{name}"' for name in names), ", ".join(["%s"] * len(names))
        if len(rows) < count:
            rows = (rows * (count // len(rows) + 1))[:count]
        fresh = [renamed(dict(zip(names, row, strict=True)), i) for i, row in enumerate(rows)]
        began = time.perf_counter()
        with transaction.atomic():
            cursor.executemany(f"INSERT INTO herd_event ({columns}) VALUES ({spots})", fresh)
        took = time.perf_counter() - began
        cursor.execute("DELETE FROM herd_event WHERE seq > 1000000")
    return took


def renamed(row: dict[str, object], i: int) -> list[object]:
    """The same row under another place and id, so that it may stand beside the first."""
    return list({**row, "seq": 1_000_001 + i, "id": f"bench-{i}"}.values())


if __name__ == "__main__":
    import django

    django.setup()
    print(json.dumps({"seconds": main(int(sys.argv[1]))}))
