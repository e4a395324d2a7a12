"""One doe on flat outlooks: the shortest farm an evaluation can be worked by hand on."""

from __future__ import annotations

from typing import Any

from herd.outlook.days import shift
from herd.outlook.evaluate import evaluate
from herd.state.fold import fold
from tests.support.log import Log
from tests.support.outlooks import book, branch, outlook

TODAY = "2026-11-20"


def days(n: int, last: str = TODAY) -> list[str]:
    return [shift(last, -k) for k in range(n - 1, -1, -1)]


def one_doe(hay_g: int = 1600, own: bool = True, confirm: int = 8, feed: str = "hay") -> Log:
    """Fern alone in a pen with hay on her own stand line, confirmed for the last days."""
    log = Log()
    log.record("doe", "fern", name="Fern", size="standard")
    log.pen("p", "fern")
    log.add("bred", "fern", {"from_on": "2026-09-01", "to_on": "2026-09-01", "how": "hand", "buck": ""}, "2026-09-01")
    log.ration("fern" if own else "p", "morning", feed, ("2026-09-01", hay_g))
    for on in days(confirm):
        log.fed("p", on, "morning", ("fern" if own else "", feed, hay_g))
    return log


def held(log: Log) -> None:
    """Scored 3 a month and a half ago, then at three weeks, then the day before yesterday."""
    for back in (44, 23, 2):
        log.score("fern", shift(TODAY, -back), 300)


def result(log: Log, branches: dict[str, Any] | None = None, day: str = TODAY, **over: Any) -> dict[str, Any]:
    looks = {"fern": outlook("fern", day, branches, **over)}
    return evaluate(fold(log.events), looks, book(), day)["does"]["fern"]


def late(**over: Any) -> dict[str, Any]:
    """A branch at day 130 with a floor of 9,000 kJ and a full demand of 13,000."""
    return {"as_is": branch(**{"gest": 130, "me_kj": 13000, "floor_me_kj": 9000, **over})}
