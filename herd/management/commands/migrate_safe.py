from argparse import ArgumentParser
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.management import call_command
from django.core.management.base import BaseCommand
from django.db import connection
from django.db.migrations.executor import MigrationExecutor

from herd.services.backup import backup


class Command(BaseCommand):
    help = "Upgrade the database with a net: a backup first, then the migrations, then everything folded again."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--to", type=Path, help="folder for the backup", default=settings.DATA_DIR)

    def handle(self, *args: Any, **options: Any) -> None:
        executor = MigrationExecutor(connection)
        plan = executor.migration_plan(executor.loader.graph.leaf_nodes())
        if not plan:
            self.stdout.write("Nothing to migrate.")
            return
        if executor.loader.applied_migrations:
            self.save(options["to"])
        call_command("migrate", interactive=False, verbosity=0)
        call_command("rebuild", stdout=self.stdout)

    def save(self, folder: Path) -> None:
        path = folder / f"before-{datetime.now(UTC):%Y%m%d-%H%M%S}.jsonl.gz"
        backup(path)
        self.stdout.write(f"Saved {path}")
