import os
import secrets
import tempfile
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path


def secret_key(path: Path) -> str:
    """Read the farm server's own key, made on the first start. Two processes starting at once agree on one key."""
    return made_once(path, lambda: secrets.token_urlsafe(64))


def made_once(path: Path, make: Callable[[], str]) -> str:
    if not path.exists():
        handle, draft = tempfile.mkstemp(dir=path.parent)
        with os.fdopen(handle, "w") as file:
            file.write(make())
        with suppress(FileExistsError):
            os.link(draft, path)
        os.unlink(draft)
    return path.read_text()
