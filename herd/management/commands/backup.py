from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand

from herd.services.backup import backup


class Command(BaseCommand):
    help = "Write every farm to one file. It holds password hashes: keep it where only you can read it."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("file", type=Path)

    def handle(self, *args: Any, **options: Any) -> None:
        counts = backup(options["file"])
        size_kb = options["file"].stat().st_size // 1024
        self.stdout.write(f"{options['file']}: {size_kb} kB, " + ", ".join(f"{n} {t}" for t, n in counts.items()))
