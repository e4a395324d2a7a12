import secrets
from pathlib import Path

from .services.made_once import made_once


def secret_key(path: Path) -> str:
    """Read the farm server's own key, made on the first start."""
    return made_once(path, lambda: secrets.token_urlsafe(64))
