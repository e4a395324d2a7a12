import json
import logging
from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from datetime import UTC, datetime

CONTEXT = ("farm", "device", "batch", "code", "count", "ms")
_about: ContextVar[dict[str, str]] = ContextVar("about", default={})  # noqa: B039 - replaced, never changed


@contextmanager
def about(**what: str) -> Iterator[None]:
    """Every line logged inside names this farm, device or batch."""
    token = _about.set({**_about.get(), **what})
    try:
        yield
    finally:
        _about.reset(token)


class JsonLines(logging.Formatter):
    """One JSON object a line; whatever of CONTEXT was passed as `extra` stands beside the message."""

    def format(self, record: logging.LogRecord) -> str:
        line = {
            "at": datetime.fromtimestamp(record.created, UTC).isoformat(timespec="milliseconds"),
            "level": record.levelname.lower(),
            "from": record.name,
            "message": record.getMessage(),
            **_about.get(),
            **{key: getattr(record, key) for key in CONTEXT if hasattr(record, key)},
        }
        if record.exc_info:
            line["trace"] = self.formatException(record.exc_info)
        return json.dumps(line, ensure_ascii=False, default=str)
