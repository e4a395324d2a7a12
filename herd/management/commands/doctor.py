import json
import sys
from argparse import ArgumentParser
from dataclasses import asdict
from typing import Any

from django.core.management.base import BaseCommand

from herd.doctor.finding import BAD, FINE
from herd.doctor.rounds import CHECKS, rounds


class Command(BaseCommand):
    help = "Say in plain words what is wrong with this server and what to do. Ends with 1 when something is bad."
    # It must speak where the database does not.
    requires_system_checks = ()

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--json", action="store_true", help="for a program")
        parser.add_argument("--only", action="append", help="one of: " + ", ".join(name for name, _ in CHECKS))
        parser.add_argument("--all", action="store_true", help="what is fine as well")

    def handle(self, *args: Any, **options: Any) -> None:
        found = []
        for one in rounds(options["only"] or ()):
            found.append(one)
            if not options["json"] and (options["all"] or one.level != FINE):
                self.stdout.write(f"{one.level.upper():13} {one.about}: {one.says}")
                if one.do:
                    self.stdout.write(f"{'':13} -> {one.do}")
        bad = sum(one.level == BAD for one in found)
        if options["json"]:
            self.stdout.write(json.dumps({"bad": bad, "found": [asdict(one) for one in found]}))
        else:
            fine = sum(one.level == FINE for one in found)
            self.stdout.write(f"{fine} of {len(found)} are fine, {bad} bad.")
        if bad:
            sys.exit(1)
