"""One doe as the fold leaves her, built in a line, for tests of the compiler."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

TODAY = date(2026, 11, 25)
MINI = {"size": "mini", "breed": "nigerian_dwarf", "kiddings_before": 2}
STANDARD = {"size": "standard", "breed": "alpine", "kiddings_before": 2}
DOELING = {"size": "mini", "breed": "nigerian_dwarf", "kiddings_before": 0}


def ago(days: int) -> str:
    """Date some days before the day of compiling."""
    return (TODAY - timedelta(days=days)).isoformat()


def folded(f: dict[str, Any], **state: Any) -> dict[str, Any]:
    """A folded doe with the named parts of her state over a blank one."""
    blank: dict[str, Any] = {"bred": None, "check": None, "dried_on": "", "kidded": None, "kiddings": 0, "left_on": ""}
    lists: dict[str, Any] = {"moves": [], "scores": [], "weights": [], "milks": [], "udder": [], "signs": []}
    dated: dict[str, Any] = {"services": [], "heats": [], "checks": [], "gestations": [], "open_on": ""}
    return {"id": "doe", "f": f, "stamp": {}, "by": {}, "pen": "", **blank, **lists, **dated, **state}


def bred(days_ago: int, window: int = 1) -> dict[str, Any]:
    """Served that many days ago; a window longer than a day is a doe that ran with the buck."""
    how = "hand" if window == 1 else "pen"
    return {"from": ago(days_ago), "to": ago(days_ago - window + 1), "how": how, "ev": "bred"}


def scanned(kids: int, days_ago: int = 1) -> dict[str, Any]:
    return {"on": ago(days_ago), "result": "pregnant", "kids": kids, "ev": "scan"}


def aged(days_along: int, days_ago: int = 1, kids: int = 2) -> dict[str, Any]:
    """A scan that gave her an age."""
    return {**scanned(kids, days_ago), "aged_d": days_along, "how": "scan"}


def marked(days_ago: int, what: str = "marked") -> list[Any]:
    """The buck's mark on her, or a heat."""
    return [ago(days_ago), 0, what, "person", "heat"]


def served(days_ago: int, window: int = 1) -> dict[str, Any]:
    """One service or exposure as it was said."""
    return {**bred(days_ago, window), "buck": ""}


def fresh(days_ago: int, born: int = 2) -> dict[str, Any]:
    return {"on": ago(days_ago), "born": born, "alive": born, "ev": "kidded"}


def weighed(kg: float, days_ago: int = 200, how: str = "scale") -> list[list[Any]]:
    return [[ago(days_ago), round(1000 * kg), how, "weight"]]


def scored(x100: int, days_ago: int = 3) -> list[list[Any]]:
    return [[ago(days_ago), x100, "person", "score"]]
