from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError

from herd.management.named import farm_of
from herd.services.audit import audit
from herd.services.leaving.pack import export


class Command(BaseCommand):
    help = "Write one farm to a ZIP: tables to read, and the whole log for `import`. No passwords are in it."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("farm", help="the farm's id or name")
        parser.add_argument("file", type=Path)

    def handle(self, *args: Any, **options: Any) -> None:
        farm = farm_of(options["farm"])
        try:
            sizes = export(farm, options["file"])
        except OSError as error:
            raise CommandError(f"No file was written: {error.strerror or error}.") from error
        audit(farm, None, "exported", "on the server")
        size_kb = options["file"].stat().st_size // 1024
        self.stdout.write(f"{options['file']}: {size_kb} kB, {farm.name}, {len(sizes)} files")
