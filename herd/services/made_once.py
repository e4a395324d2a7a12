"""A file that is made on the first start and never again. Two processes starting at once agree on one."""

import os
import tempfile
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path


def made_once(path: Path, make: Callable[[], str]) -> str:
    if not path.exists():
        handle, draft = tempfile.mkstemp(dir=path.parent)
        with os.fdopen(handle, "w") as file:
            file.write(make())
        with suppress(FileExistsError):
            os.link(draft, path)
        os.unlink(draft)
    return path.read_text()
