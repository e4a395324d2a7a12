from argparse import ArgumentParser
from datetime import date
from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand

from herd.demo.make import make_demo, moment_on
from herd.demo.passwords import still_good
from herd.demo.zone import local_zone
from herd.services.clock import now_ms

SEED = 20


class Command(BaseCommand):
    help = "Make the demo farm where there is no farm yet, and say who can sign in with which password."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--seed", type=int, default=SEED, help="another number gives another ninety days")
        parser.add_argument("--today", type=date.fromisoformat, help="the day the history ends, YYYY-MM-DD")
        parser.add_argument("--zone", default=local_zone(settings.MACHINE_TZ), help="the farm's time zone")

    def handle(self, *args: Any, **options: Any) -> None:
        zone, today = options["zone"], options["today"]
        now = moment_on(today, zone) if today else now_ms()
        made = make_demo(settings.DATA_DIR, zone, options["seed"], now)
        self.stdout.write("The demo farm is ready." if made else "There is a farm already: nothing was made.")
        for name, password in still_good(settings.DATA_DIR).items():
            self.stdout.write(f"  {name:<8} {password}")
