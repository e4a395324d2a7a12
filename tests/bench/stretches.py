"""How long the page's own thread works at a stretch, as processor time out of the browser's trace: no other program on
the machine makes a stretch longer."""

from __future__ import annotations

import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Any

from playwright.sync_api import CDPSession

CATEGORIES = "-*,toplevel,devtools.timeline,blink.user_timing"
MAIN, LONGEST_WAIT_S = "CrRendererMain", 60


@dataclass
class Trace:
    """Each stretch: when it began, and milliseconds of processor time in it; and what the page marked."""

    stretches: list[tuple[float, float]] = field(default_factory=list)
    marks: list[tuple[str, float]] = field(default_factory=list)

    def between(self, first: str, last: str) -> list[float]:
        """Those begun between one mark and the next of the other name, each time it came."""
        found: list[float] = []
        began = None
        for name, at in sorted(self.marks, key=lambda mark: mark[1]):
            if name == first:
                began = at
            elif name == last and began is not None:
                found += [ms for start, ms in self.stretches if began <= start < at]
                began = None
        return found


@contextmanager
def traced(line: CDPSession) -> Iterator[Trace]:
    events: list[Any] = []
    done: list[Any] = []
    trace = Trace()
    line.on("Tracing.dataCollected", lambda part: events.extend(part["value"]))
    line.on("Tracing.tracingComplete", lambda given: done.append(given))
    line.send("Tracing.start", {"categories": CATEGORIES, "transferMode": "ReportEvents"})
    yield trace
    line.send("Tracing.end")
    ends = time.monotonic() + LONGEST_WAIT_S
    while not done:
        if time.monotonic() > ends:
            raise TimeoutError("the browser gave no trace")
        line.send("Performance.getMetrics")
        time.sleep(0.05)
    trace.stretches, trace.marks = stretches_of(events), marks_of(events)


def stretches_of(events: list[Any]) -> list[tuple[float, float]]:
    """Of the page that marks anything; the browser runs others beside it."""
    pages = {event["pid"] for event in events if event["cat"] == "blink.user_timing"}
    named = [event for event in events if event["name"] == "thread_name" and event["args"]["name"] == MAIN]
    threads = {(event["pid"], event["tid"]) for event in named if event["pid"] in pages}
    tasks = [event for event in events if event["ph"] == "X" and event["name"].endswith("RunTask")]
    return [(task["ts"], task.get("tdur", 0) / 1000) for task in tasks if (task["pid"], task["tid"]) in threads]


def marks_of(events: list[Any]) -> list[tuple[str, float]]:
    return [(event["name"], event["ts"]) for event in events if event["cat"] == "blink.user_timing"]
