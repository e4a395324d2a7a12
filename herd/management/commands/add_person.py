import getpass
from argparse import ArgumentParser
from typing import Any

from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.core.management.base import BaseCommand, CommandError
from django.db import transaction

from herd.management.named import farm_of
from herd.models import Person
from herd.models.farm import OWNER, ROLES
from herd.services.make_farm import add_member
from herd.services.names import BadName, plain_name


class Command(BaseCommand):
    help = (
        "Let somebody sign in, and put them on a farm if one is named. The password is asked for, or read from stdin."
    )

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("name")
        parser.add_argument("--farm", help="a farm's id or name")
        parser.add_argument("--role", choices=dict(ROLES), default=OWNER)
        parser.add_argument("--stdin", action="store_true", help="read the password from stdin")

    def handle(self, *args: Any, **options: Any) -> None:
        # Blanks at its ends are taken off where she signs in too.
        password = (input() if options["stdin"] else getpass.getpass()).strip()
        try:
            name = plain_name(options["name"])
        except BadName as error:
            raise CommandError(str(error)) from error
        if Person.objects.filter(name__iexact=name).exists():
            raise CommandError("Somebody of that name can sign in already.")
        try:
            validate_password(password)
        except ValidationError as error:
            raise CommandError(" ".join(error.messages)) from error
        with transaction.atomic():
            person = Person.objects.make(name, password)
            if options["farm"]:
                add_member(farm_of(options["farm"]), person, options["role"], by=person)
        self.stdout.write(f"{person.name} can sign in." + ("" if options["farm"] else " Make a farm in the app."))
