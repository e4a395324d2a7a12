"""`python -m tests.demo.citations`: for every doe of the demo farm each citation of her outlook beside the call that
made it. A number and a herd rule stand beside the term that read them.
"""

from __future__ import annotations

import os
import sys
from pathlib import Path
from tempfile import TemporaryDirectory

ZONE = "UTC"


def main() -> None:
    import django

    django.setup()
    from django.core.management import call_command

    from herd.demo.make import make_demo
    from herd.models import Farm, Folded
    from herd.services.clock import day_of, now_ms
    from herd.services.wire import decode
    from tests.support.citations import lines

    with TemporaryDirectory() as folder:
        call_command("migrate", verbosity=0)
        make_demo(Path(folder), ZONE, 20, now_ms())
        for farm in Farm.objects.order_by("name"):
            rows = list(Folded.objects.filter(farm=farm))
            rules = next((decode(row.json)["f"] for row in rows if row.kind == "rules"), {})
            does = [decode(row.json) for row in rows if row.kind == "doe"]
            for doe in sorted(does, key=lambda doe: str(doe["f"].get("name"))):
                print("\n".join(lines(str(doe["f"].get("name")), doe, rules, day_of(now_ms(), ZONE))))


if __name__ == "__main__":
    with TemporaryDirectory() as data:
        os.environ |= {"DJANGO_SETTINGS_MODULE": "herd.settings", "MANGERLINE_DATA": data, "MANGERLINE_LOG": "ERROR"}
        sys.exit(main())
