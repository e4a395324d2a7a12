import os
import socket
import sys
from argparse import ArgumentParser
from io import StringIO
from typing import Any

from django.conf import settings
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError

from herd.demo.passwords import FILE, still_good
from herd.models import Farm


class Command(BaseCommand):
    help = "Bring the database up to date, make the demo farm if there is no farm, serve the app, and work."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--port", type=int, default=8000)
        parser.add_argument("--host", default="127.0.0.1")
        parser.add_argument("--workers", type=int, default=2)
        parser.add_argument("--no-demo", action="store_true", help="leave an empty database empty")

    def handle(self, *args: Any, **options: Any) -> None:
        if taken(options["host"], options["port"]):
            raise CommandError(f"Port {options['port']} is in use by another program. Choose one with --port.")
        call_command("migrate_safe", stdout=self.stdout)
        fresh = not options["no_demo"] and not Farm.objects.exists()
        if fresh:
            self.stdout.write("Making the demo farm ...")
            self.stdout.flush()
            call_command("make_demo", stdout=StringIO())
        if not settings.CLIENT_DIST.is_dir():
            self.stderr.write("The client is not built: run `manage.py build_client` first.")
        self.stdout.write(f"Mangerline: http://localhost:{options['port']}/   (stop with Ctrl-C)")
        self.tell(fresh)
        self.stdout.flush()
        # Relative names end here: both start in the folder this code lies in, not in whatever else is called herd.
        os.environ["MANGERLINE_DATA"] = str(settings.DATA_DIR)
        os.chdir(settings.BASE_DIR)
        both = [*gunicorn(**options), "--", *worker()]
        os.execv(sys.executable, [sys.executable, "-m", "herd.together", *both])

    def tell(self, fresh: bool) -> None:
        """What is printed is kept, by terminals and by whatever reads a service's words: passwords once, then where."""
        good = still_good(settings.DATA_DIR)
        for name, password in good.items() if fresh else ():
            self.stdout.write(f"  {name}: {password}")
        if good and not fresh:
            self.stdout.write(f"  Names and passwords of the demo: {settings.DATA_DIR / FILE}")


def taken(host: str, port: int) -> bool:
    with socket.socket() as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((host, port))
        except OSError:
            return True
    return False


def gunicorn(host: str, port: int, workers: int, **_: Any) -> list[str]:
    bind = f"{host}:{port}"
    # More threads than pushes are taken in at once (api/load.py): somebody is left to say "later".
    pool = ["--worker-class", "herd.hosting.worker.HurriedWorker", "--workers", str(workers), "--threads", "16"]
    # Its control socket lies in $HOME: two servers on one machine, or a read-only home, would collide there.
    quiet = ["--no-control-socket", "--log-level", "warning"]
    here = ["--chdir", str(settings.BASE_DIR), "--bind", bind]
    return [sys.executable, "-P", "-m", "gunicorn", "herd.wsgi:application", *here, *pool, *quiet]


def worker() -> list[str]:
    return [sys.executable, "-m", "herd.cli", "work"]
