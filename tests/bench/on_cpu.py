"""Processor time of the page's own thread, not slowed down: the figure that holds on a busy machine too."""

from __future__ import annotations

from collections.abc import Callable

from playwright.sync_api import CDPSession

PARTS = ("TaskDuration", "ScriptDuration", "LayoutDuration", "RecalcStyleDuration")
Spent = dict[str, float]


def meter(line: CDPSession) -> None:
    line.send("Performance.enable", {"timeDomain": "threadTicks"})


def spent(line: CDPSession, work: Callable[[], object]) -> Spent:
    """Milliseconds of processor time WORK took, by part."""
    before = reading(line)
    work()
    after = reading(line)
    return {part: after[part] - before.get(part, 0.0) for part in PARTS}


def reading(line: CDPSession) -> Spent:
    metrics = line.send("Performance.getMetrics")["metrics"]
    return {metric["name"]: 1000 * metric["value"] for metric in metrics if metric["name"] in PARTS}
