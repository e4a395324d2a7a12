import json
import logging
from datetime import UTC, datetime

CONTEXT = ("farm", "device", "batch", "code", "count", "ms")


class JsonLines(logging.Formatter):
    """One JSON object a line; whatever of CONTEXT was passed as `extra` stands beside the message."""

    def format(self, record: logging.LogRecord) -> str:
        line = {
            "at": datetime.fromtimestamp(record.created, UTC).isoformat(timespec="milliseconds"),
            "level": record.levelname.lower(),
            "from": record.name,
            "message": record.getMessage(),
            **{key: getattr(record, key) for key in CONTEXT if hasattr(record, key)},
        }
        if record.exc_info:
            line["trace"] = self.formatException(record.exc_info)
        return json.dumps(line, ensure_ascii=False, default=str)
