from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError

from herd.services.restore import BadBackup, restore


class Command(BaseCommand):
    help = "Replace everything by a backup. Phones notice by themselves and offer again what they hold."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("file", type=Path)
        parser.add_argument("--replace-everything", action="store_true", help="say that you mean it")

    def handle(self, *args: Any, **options: Any) -> None:
        if not options["replace_everything"]:
            raise CommandError("This replaces every farm on this server. Add --replace-everything to go on.")
        try:
            counts = restore(options["file"])
        except BadBackup as error:
            raise CommandError(str(error)) from error
        self.stdout.write("Restored " + ", ".join(f"{n} {t}" for t, n in counts.items()) + ". Everybody signs in anew.")
