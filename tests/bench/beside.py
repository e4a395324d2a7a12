"""The server with another built client than this tree's, for `--beside`."""

import os
from pathlib import Path

from django.conf import settings

from tests.bench.ground import CLIENT

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "herd.settings")
settings.CLIENT_DIST = settings.WHITENOISE_ROOT = Path(os.environ[CLIENT])

from herd.wsgi import application  # noqa: E402, F401
