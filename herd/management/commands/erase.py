from argparse import ArgumentParser
from typing import Any

from django.core.management.base import BaseCommand, CommandError

from herd.management.named import farm_of, person_of
from herd.services.erase import NoOwnerLeft, erase_farm, erase_person


class Command(BaseCommand):
    help = "Take somebody's name off this server, or a whole farm, for good. What was recorded stays without the name."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("what", choices=("person", "farm"))
        parser.add_argument("name", help="the person's name; the farm's name or id")
        parser.add_argument("--for-good", action="store_true", help="say that you mean it")

    def handle(self, *args: Any, **options: Any) -> None:
        if not options["for_good"]:
            raise CommandError("This cannot be undone. Add --for-good to go on.")
        if options["what"] == "farm":
            farm = farm_of(options["name"])
            gone = erase_farm(farm)
            self.stdout.write("Gone: " + (", ".join(f"{n} {t}" for t, n in gone.items()) or "an empty farm") + ".")
        else:
            self.person(options["name"])
        self.stdout.write("Backups made before still hold it, until they are thinned out or deleted.")

    def person(self, name: str) -> None:
        person = person_of(name)
        try:
            erase_person(person)
        except NoOwnerLeft as error:
            message = f"{person.name} is the only owner of {error}: make somebody else its owner, or erase the farm."
            raise CommandError(message) from error
        self.stdout.write("Erased.")
