from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError
from django.db import DatabaseError

from herd.models import Person
from herd.services.health import told
from herd.services.leaving.unpack import BadFarmFile, import_farm
from herd.services.names import as_typed


class Command(BaseCommand):
    help = "Make a new farm from the ZIP of `export`. The owner can sign in already; the others come back as names."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("file", type=Path)
        parser.add_argument("--owner", required=True, help="the name of somebody who can sign in")
        parser.add_argument("--name", default="", help="another name for the farm")

    def handle(self, *args: Any, **options: Any) -> None:
        owner = Person.objects.filter(name__iexact=as_typed(options["owner"]), is_active=True).first()
        if owner is None:
            raise CommandError("Nobody of that name can sign in: add them first with add_person.")
        try:
            farm = import_farm(options["file"], owner, options["name"])
        except BadFarmFile as error:
            raise CommandError(str(error)) from error
        except DatabaseError as error:
            raise CommandError(told(error).message) from error
        self.stdout.write(f"{farm.name} ({farm.id}): {farm.seq} entries, owned by {owner.name}.")
