"""Each kidding of the log with the service it came of, its kids, and what was seen of her around it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from herd.state.checks import is_day
from herd.state.order import truth, whole
from herd.state.twice import is_same_kidding

from ..days import days_between, shift
from .numbers import N

MINUTE_MS = 60_000
BEFORE_MS = 36 * 3_600_000
HELP = ("none", "eased", "pulled", "vet")
UNKNOWN = -1
SAME_BIRTH_D = 2


@dataclass(frozen=True)
class Kidding:
    """One kidding of one doe. `first_at`: when the first kid came [ms], 0 where nobody knows. `length`: days since the
    one service it can have come of, 0 where that is not known to the day. `help`: a place in HELP, -1 unknown."""

    doe: str
    on: str
    born: int
    alive: int
    first_at: int
    bred_on: str
    length: int
    help: int
    weighed: int
    birth_g: int


def kiddings_of(view: Mapping[str, Any], said: Iterable[Mapping[str, Any]]) -> list[Kidding]:
    """From what was said of kiddings, in order of time; two within a hundred days are one, and the later word counts.

    A doe of whom no record is left in the view is left out.
    """
    latest: dict[str, list[list[Mapping[str, Any]]]] = {}
    for event in said:
        turns = latest.setdefault(event["subject"], [])
        if turns and is_same_kidding(turns[-1][-1]["on"], event["on"]):
            turns[-1].append(event)
        else:
            turns.append([event])
    kids = _kids(view)
    known = {doe: turns for doe, turns in latest.items() if doe in view["does"]}
    found = [_kidding(view["does"][doe], turn, kids.get(doe, [])) for doe, turns in known.items() for turn in turns]
    return sorted(found, key=lambda one: (one.on, one.doe))


def _kids(view: Mapping[str, Any]) -> dict[str, list[Mapping[str, Any]]]:
    found: dict[str, list[Mapping[str, Any]]] = {}
    for row in view["kids"].values():
        found.setdefault(str(row["f"].get("dam", "")), []).append(row["f"])
    return found


def _kidding(doe: Mapping[str, Any], turn: list[Mapping[str, Any]], kids: list[Mapping[str, Any]]) -> Kidding:
    last, on = turn[-1], turn[-1]["on"]
    hers = [kid for kid in kids if _born_then(kid, on)]
    helped = [HELP.index(kid["help"]) for kid in hers if kid.get("help") in HELP]
    weights = [whole(dict(kid), "birth_g") for kid in hers if kid.get("birth_g")]
    bred_on, length = _service(doe, on)
    return Kidding(
        doe=doe["id"],
        on=on,
        born=whole(last["data"], "born"),
        alive=whole(last["data"], "alive"),
        first_at=_first_at(doe, last, hers),
        bred_on=bred_on,
        length=length,
        help=max(helped, default=UNKNOWN),
        weighed=len(weights),
        birth_g=sum(weights),
    )


def _born_then(kid: Mapping[str, Any], on: str) -> bool:
    born = str(kid.get("born_on", ""))
    return is_day(born) and abs(days_between(born, on)) <= SAME_BIRTH_D


def _first_at(doe: Mapping[str, Any], said: Mapping[str, Any], kids: list[Mapping[str, Any]]) -> int:
    """When the first kid was out: as it was tapped, as a kid's own record has it, or else as the kidding was timed."""
    at = int(said["happened"])
    tapped = [when for when, seen, *_ in doe["signs"] if "kid_out" in seen and abs(at - when) <= BEFORE_MS]
    born = [MINUTE_MS * whole(dict(kid), "born_min") for kid in kids if kid.get("born_min")]
    timed = [at] if truth(said["data"], "timed") else []
    return min(tapped or born or timed, default=0)


def _service(doe: Mapping[str, Any], on: str) -> tuple[str, int]:
    """The day she settled and how long she carried. Only where one service of a single day fits is the length known;
    of an exposure that fits the day comes from the usual length, and where none fits from that alone."""
    usual = shift(on, -N["usual_length_d"])
    fits = [one for one in doe["services"] if _fits(one, on)]
    days = {one["from"] for one in fits if one["from"] == one["to"]}
    if len(days) == 1 and len(fits) == sum(one["from"] == one["to"] for one in fits):
        [day] = days
        return day, days_between(day, on)
    if fits:
        return min(max(usual, min(one["from"] for one in fits)), max(one["to"] for one in fits)), 0
    return usual, 0


def _fits(service: Mapping[str, Any], on: str) -> bool:
    shortest, longest = days_between(service["to"], on), days_between(service["from"], on)
    return shortest <= N["length_high_d"] and longest >= N["length_low_d"]
