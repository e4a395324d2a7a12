from argparse import ArgumentParser
from typing import Any

from django.core.management.base import BaseCommand, CommandError

from herd.models import Farm
from herd.services.rebuild import rebuild


class Command(BaseCommand):
    help = "Make everything that is folded or compiled again from the log."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--farm", help="only this farm's id")

    def handle(self, *args: Any, **options: Any) -> None:
        farms = Farm.objects.filter(pk=options["farm"]) if options["farm"] else Farm.objects.all()
        if options["farm"] and not farms:
            raise CommandError("There is no farm with that id.")
        for farm in farms:
            self.stdout.write(f"{farm.name}: {rebuild(farm.id)} outlooks changed")
