from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError

from herd.services.backup import backup, file_in, thin_out
from herd.services.backup_file import BadBackup
from herd.services.last_backup import note


class Command(BaseCommand):
    help = "Write every farm to one file and read it again. It holds password hashes: keep it where only you can read."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("file", type=Path, help="a file, or a folder to put a dated one in")
        parser.add_argument("--keep", type=int, default=0, help="in a folder: how many dated ones to keep, 0 for all")

    def handle(self, *args: Any, **options: Any) -> None:
        into = options["file"]
        path = file_in(into) if into.is_dir() else into
        try:
            found = backup(path)
        except BadBackup as error:
            raise CommandError(
                f"The backup that was just written cannot be read, and is thrown away: {error}"
            ) from error
        except OSError as error:
            raise CommandError(f"No backup: {error.strerror or error}. What was there before is untouched.") from error
        note(settings.DATA_DIR, path, found.spoilt)
        size_kb = path.stat().st_size // 1024
        self.stdout.write(f"{path}: {size_kb} kB, " + ", ".join(f"{n} {t}" for t, n in found.counts.items()))
        if found.spoilt:
            named = ", ".join(found.spoilt[:5])
            raise CommandError(
                f"Kept, but {len(found.spoilt)} entries are not what was taken in ({named}). Run doctor."
            )
        for old in thin_out(into, options["keep"]) if into.is_dir() else ():
            self.stdout.write(f"Thinned out {old.name}")
