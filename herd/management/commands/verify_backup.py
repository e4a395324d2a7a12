import os
import subprocess
import sys
import tempfile
from argparse import ArgumentParser
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError

from herd.services.backup import NAMED
from herd.services.last_backup import last, note


class Command(BaseCommand):
    help = "Try a backup: restore it into a database that is thrown away again, and let doctor look at its entries."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("file", type=Path, help="a backup, or a folder: the newest in it")
        parser.add_argument("--url", default="", help="an empty PostgreSQL database to use; without it SQLite")

    def handle(self, *args: Any, **options: Any) -> None:
        path = newest(options["file"])
        with tempfile.TemporaryDirectory(dir=settings.DATA_DIR) as scratch:
            env = {key: value for key, value in os.environ.items() if key not in ("DATABASE_URL", "MANGERLINE_HOSTS")}
            env |= {"MANGERLINE_DATA": scratch, "MANGERLINE_SECRET_KEY": settings.SECRET_KEY}
            env |= {"DATABASE_URL": options["url"]} if options["url"] else {}
            run(env, "migrate", "--verbosity", "0")
            said = run(env, "restore", str(path.resolve()), "--replace-everything")
            for check in ("entries", "tables", "pages"):
                run(env, "doctor", "--only", check)
        held = last(settings.DATA_DIR)
        if held:
            tried = datetime.now(UTC).isoformat(timespec="seconds")
            note(settings.DATA_DIR, Path(held["file"]), held["spoilt"], at=held["at"], tried=tried)
        self.stdout.write(f"{path.name} was restored and is whole. {said.strip().splitlines()[-1]}")


def newest(path: Path) -> Path:
    found = sorted(path.glob(NAMED)) if path.is_dir() else [path]
    if not found:
        raise CommandError(f"There is no backup in {path}.")
    return found[-1]


def run(env: dict[str, str], *arguments: str) -> str:
    """In a process of its own: the settings of this one are bound to the real database."""
    command = [sys.executable, "-P", "-m", "herd", *arguments]
    env = {**env, "PYTHONPATH": os.pathsep.join([str(settings.BASE_DIR), env.get("PYTHONPATH", "")])}
    done = subprocess.run(command, env=env, capture_output=True, text=True)
    if done.returncode:
        raise CommandError(f"The backup did not pass `{' '.join(arguments[:1])}`: {done.stdout}{done.stderr}"[-2000:])
    return done.stdout
