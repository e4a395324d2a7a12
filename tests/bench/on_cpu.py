"""Processor time of the page's own thread, not slowed down: the figure that holds on a busy machine too."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from statistics import median

from playwright.sync_api import BrowserContext, CDPSession, Page

from tests.bench.table import Row

PARTS = {"TaskDuration": "all", "ScriptDuration": "script", "LayoutDuration": "layout", "RecalcStyleDuration": "style"}
Spent = dict[str, float]


def meter(context: BrowserContext, page: Page) -> CDPSession:
    line = context.new_cdp_session(page)
    line.send("Performance.enable", {"timeDomain": "threadTicks"})
    return line


def spent(line: CDPSession, work: Callable[[], object]) -> Spent:
    """Milliseconds of processor time WORK took, by part."""
    before = reading(line)
    work()
    after = reading(line)
    return {part: after[part] - before.get(part, 0.0) for part in PARTS}


def reading(line: CDPSession) -> Spent:
    metrics = line.send("Performance.getMetrics")["metrics"]
    return {metric["name"]: 1000 * metric["value"] for metric in metrics if metric["name"] in PARTS}


def row(part: str, what: str, times: list[Spent], note: str) -> Iterator[Row]:
    middle = {PARTS[name]: median(one[name] for one in times) for name in PARTS}
    parts = ", ".join(f"{name} {ms:.0f}" for name, ms in middle.items() if name != "all")
    yield Row(part, f"{what}, processor time at 1x", middle["all"], "ms", f"{parts}; {note}")
