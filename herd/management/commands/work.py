import os
import signal
from types import FrameType
from typing import Any

from django.core.management.base import BaseCommand

from herd.services.work import Worker


class Command(BaseCommand):
    help = "Make the outlooks that are due, farm by farm, and what is done once a day. `up` runs one by itself."

    def handle(self, *args: Any, **options: Any) -> None:
        parent, asked = os.getppid(), False

        def stop(number: int, frame: FrameType | None) -> None:
            nonlocal asked
            asked = True

        signal.signal(signal.SIGTERM, stop)
        signal.signal(signal.SIGINT, stop)
        # Whoever started it may be killed without a word: then there is nobody left to stop it.
        worker = Worker(lambda: asked or os.getppid() != parent)
        worker.run()
        worker.gone()
