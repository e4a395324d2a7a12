"""(v) A pull when nothing is new, (vi) a doe compiled, (vii) the farm evaluated from Python. Run inside a server's
data; prints JSON."""

from __future__ import annotations

import json
import time
import zlib
from datetime import UTC, datetime
from statistics import median
from typing import Any


def pull() -> dict[str, Any]:
    from django.db import connection
    from django.test import Client

    from herd.models import Farm, Person

    client, farm = Client(SERVER_NAME="localhost"), Farm.objects.get()
    client.force_login(Person.objects.get())
    path = f"/api/farms/{farm.id}/changes?seq={farm.seq}&outlook_rev={farm.outlook_rev}&epoch={farm.epoch}"
    client.get(path)
    asked: list[str] = []
    with connection.execute_wrapper(lambda run, sql, *rest: asked.append(sql) or run(sql, *rest)):
        reply = client.get(path)
    assert reply.status_code == 200, reply.content
    took = []
    for _ in range(30):
        began = time.perf_counter()
        client.get(path)
        took.append(time.perf_counter() - began)
    start = client.get(f"/api/farms/{farm.id}/bootstrap").content
    return {
        "queries": len(asked),
        "bytes": len(reply.content),
        "ms": 1000 * median(took),
        "bootstrap": len(start),
        "bootstrap_gzip": len(zlib.compress(start, 6)),
    }


def compiling() -> dict[str, Any]:
    from herd.models import Folded
    from herd.outlook.compile import compile_doe
    from herd.services.wire import canonical

    does = [(row.subject, json.loads(row.json)) for row in Folded.objects.filter(kind="doe")]
    today = datetime.now(UTC).date()
    compile_doe(does[0][1], {}, today, does[0][0])
    took, sizes, packed = [], [], []
    for subject, view in does:
        began = time.perf_counter()
        doc = compile_doe(view, {}, today, subject)
        took.append(time.perf_counter() - began)
        text = canonical(doc).encode()
        sizes.append(len(text))
        packed.append(len(zlib.compress(text, 6)))
    return {"ms": 1000 * median(took), "most_ms": 1000 * max(took), "bytes": median(sizes), "gzip": median(packed)}


def evaluating() -> dict[str, Any]:
    from herd.models import Farm, OutlookRow
    from herd.outlook.evaluate import FarmDay, evaluate
    from herd.state.fold import fold
    from tests.logs import replayed

    farm = Farm.objects.get()
    view, day = fold(replayed(farm)), datetime.now(UTC).date().isoformat()
    docs = {row.doe: json.loads(row.doc) for row in OutlookRow.objects.filter(farm=farm)}
    given = (view, docs, docs.pop(""), day)
    began = time.perf_counter()
    evaluate(*given)
    first = time.perf_counter() - began
    whole, handed = [], []
    for _ in range(20):
        began = time.perf_counter()
        evaluate(*given)
        whole.append(time.perf_counter() - began)
        began = time.perf_counter()
        FarmDay(*given).ask("ranks")
        handed.append(time.perf_counter() - began)
    return {"ms": 1000 * median(whole), "handed_ms": 1000 * median(handed), "first_ms": 1000 * first}


if __name__ == "__main__":
    import django

    django.setup()
    print(json.dumps({"pull": pull(), "compiling": compiling(), "evaluating": evaluating()}))
