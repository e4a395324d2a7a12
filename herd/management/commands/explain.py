from argparse import ArgumentParser
from datetime import date
from typing import Any

from django.core.management.base import BaseCommand, CommandError

from herd.outlook.codes import NUTRIENTS
from herd.outlook.engine import EngineError
from herd.services.explain import NoSuchDoe, explain, find_doe


class Command(BaseCommand):
    help = "Print every number behind a doe's prompt, with its equation, source and standing."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("doe", help="her name or id")
        parser.add_argument("--on", type=date.fromisoformat, help="as of this day, YYYY-MM-DD (default: today)")
        parser.add_argument("--nutrient", choices=NUTRIENTS, default="me", help="energy unless said")

    def handle(self, *args: Any, **options: Any) -> None:
        try:
            found = find_doe(options["doe"])
            lines = explain(found, options["on"], options["nutrient"])
        except (NoSuchDoe, EngineError) as error:
            raise CommandError(str(error)) from error
        self.stdout.write("\n".join([f"{found.name} of {found.farm.name}", *lines]))
