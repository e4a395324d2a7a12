from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError

from herd.hosting.write_out import BadHost, write_out


class Command(BaseCommand):
    help = "Write out what a Debian machine needs to serve this for good: install.sh in the folder puts it in place."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("folder", type=Path)
        parser.add_argument("--name", required=True, help="what phones call the machine, such as herd.example.org")
        parser.add_argument("--house", action="store_true", help="on its own network, with its own certificates")

    def handle(self, *args: Any, **options: Any) -> None:
        try:
            made = write_out(options["folder"], options["name"], house=options["house"])
        except BadHost as error:
            raise CommandError(str(error)) from error
        self.stdout.write(f"Wrote {len(made)} files. Read them, then, as root:  sh {options['folder']}/install.sh")
        if options["house"]:
            self.stdout.write(f"How each phone trusts the house:  {options['folder']}/PHONES.txt")
