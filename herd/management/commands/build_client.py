import importlib.util
from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError


class Command(BaseCommand):
    help = "Build the client into herd/client_dist, and its evaluator for the server, unless built from these sources."
    requires_system_checks = []

    def handle(self, *args: Any, **options: Any) -> None:
        script = settings.BASE_DIR / "frontend" / "client_build.py"
        if not script.exists():
            raise CommandError("Only a source checkout can build the client; an installed package brings it along.")
        spec = importlib.util.spec_from_file_location("client_build", script)
        assert spec
        assert spec.loader
        module = importlib.util.module_from_spec(spec)
        spec.loader.exec_module(module)
        self.stdout.write("Built. Restart the server." if module.build() else "Already built from these sources.")
