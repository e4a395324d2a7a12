import sys
from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError

from herd.services.backup_file import BadBackup
from herd.services.keys import Found, Key, Narrowed, compare, held_now
from herd.services.narrower import Held
from herd.services.restore import checked, restore


class Command(BaseCommand):
    help = "Replace everything by a backup. Phones notice by themselves and offer again what they hold."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("file", type=Path)
        parser.add_argument("--replace-everything", action="store_true", help="say that you mean it")
        parser.add_argument(
            "--let-back", action="append", default=[], metavar="NAME", help="of those taken off since: back on the farm"
        )
        parser.add_argument("--list", action="store_true", help="only say who would have a key")

    def handle(self, *args: Any, **options: Any) -> None:
        if not options["replace_everything"] and not options["list"]:
            raise CommandError("This replaces every farm on this server. Add --replace-everything to go on.")
        try:
            checked(options["file"])
            found = compare(options["file"], held_now())
            self.say(found)
            if options["list"]:
                return
            back = [*options["let_back"], *self.ask(found, options["let_back"])]
            counts = restore(options["file"], back)
        except BadBackup as error:
            raise CommandError(str(error)) from error
        self.stdout.write("Restored " + ", ".join(f"{n} {t}" for t, n in counts.items()) + ". Everybody signs in anew.")

    def say(self, found: Found) -> None:
        if not found.compared:
            self.stdout.write("The database here knows none of these farms: everybody in the backup has a key again.")
        for key in found.removed:
            self.stdout.write(f"{whole(key)} is no longer on that farm, and stays off it.")
        for one in found.narrowed:
            self.stdout.write(f"{whole(one.key)} is {told(one.today)} by now, and {stays(one)}.")
        for key in found.newcomers:
            self.stdout.write(f"Not in the backup, and to be invited again: {key.name}, {key.role}.")

    def ask(self, found: Found, told: list[str]) -> list[str]:
        """At a terminal each is asked about; from a script only those who were named come back."""
        if not sys.stdin.isatty():
            return []
        names = dict.fromkeys(key.name for key in (*found.removed, *(one.key for one in found.narrowed)))
        return [name for name in names if name not in told and yes(f"Give {name} back what the backup says? [y/N] ")]


def whole(key: Key) -> str:
    return f"{key.name}, {key.role} of {key.farm_name}{key.place.more()} in the backup,"


def told(place: Held) -> str:
    return f"{place.role}{place.more()}"


def stays(one: Narrowed) -> str:
    return "stays so" if one.kept == one.today else f"comes back as {told(one.kept)}"


def yes(question: str) -> bool:
    return input(question).strip().lower() in ("y", "yes")
