"""What is known or assumed about one doe on the day of compiling, gathered from her folded record."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from herd.science.base.errors import MissingInput
from herd.science.base.record import term
from herd.science.base.validity import check
from herd.science.dates.phase import CloseUp, Stages, close_up_day
from herd.science.parameters import values

from ..codes import BREEDS
from ..learned import NOTHING, Learned
from .dates import Day, day
from .due import Service, service
from .evidence import with_the_buck_in
from .mass import Mass, mass_of
from .milk import Milk, milk_of


@dataclass(frozen=True)
class Facts:
    """One doe, one day: everything the days are worked from."""

    today: Day
    size: str
    breed: str
    keeper: str
    first: bool
    done: int
    service: Service | None
    mass: Mass
    milk: Milk
    stages: Stages
    score_x100: int
    assumed: tuple[str, ...]

    @property
    def checked(self) -> bool:
        return self.service is not None and self.service.checked

    @property
    def dried_in_pregnancy(self) -> bool:
        return self.service is not None and self.milk.dried is not None and self.milk.dried >= self.service.first


def facts_of(doe: Mapping[str, Any], rules: Mapping[str, int], today: Day, learned: Learned = NOTHING) -> Facts:
    """Gather the facts. Raises OutOfRange when a recorded value lies outside what the science covers."""
    doe = with_the_buck_in(doe, today)
    f = doe["f"]
    size, breed, guessed, done = _class_of(doe, today)
    first = done == 0
    assumed = [] if f.get("size") in ("mini", "standard") else ["size_standard"]
    assumed += ["breed_unknown"] if breed == "unknown" else []
    assumed += ["kidded_before"] if guessed else []
    check_dates(doe, today)
    if is_undated(doe):
        raise MissingInput("bred_on")
    served, notes = service(doe, size, breed, done + 1, rules, learned)
    assumed += notes
    if served:
        check(gestation_day=max(0, today - served.conception))
    with term("weight"):
        mass, notes = mass_of(doe, size, breed, first, served, today)
    assumed += notes
    with term("milk"):
        milk, notes = milk_of(doe, size, breed, done, served, rules, today)
    assumed += notes
    score = last_score(doe, today)
    with term("phase"):
        stages = _stages(rules, size, first, served, milk, score)
    keeper = str(f.get("keeper")) if f.get("keeper") in ("easy", "hard") else "even"
    notes = sorted(set(assumed))
    return Facts(today, size, breed, keeper, first, done, served, mass, milk, stages, score, tuple(notes))


def is_undated(doe: Mapping[str, Any]) -> bool:
    """Found carrying, and nobody knows since when: fed as an open doe she would be starved in her last weeks."""
    return bool(doe["check"]) and doe["check"]["result"] == "pregnant" and not doe["bred"]


def service_of(
    doe: Mapping[str, Any], rules: Mapping[str, int], today: Day, learned: Learned = NOTHING
) -> Service | None:
    """The service alone, of a doe so long past due that nothing else is worked out: her dates still hold."""
    size, breed, _, done = _class_of(doe, today)
    return service(with_the_buck_in(doe, today), size, breed, done + 1, rules, learned)[0]


def _class_of(doe: Mapping[str, Any], today: Day) -> tuple[str, str, bool, int]:
    """Size, breed, whether it is guessed that she has kidded, and how often she has."""
    f = doe["f"]
    size = "mini" if f.get("size") == "mini" else "standard"
    breed = str(f.get("breed")) if f.get("breed") in BREEDS else "unknown"
    guessed = _grown_by_default(doe, today)
    return size, breed, guessed, int(doe["kiddings"]) + int(f.get("kiddings_before") or 0) + (1 if guessed else 0)


def check_dates(doe: Mapping[str, Any], today: Day) -> None:
    """Raise OutOfRange where she was bred or kidded in another age: a slip in the year, and no date can hang on it."""
    if doe["bred"]:
        check(span_d=today - day(doe["bred"]["from"]))
    if doe["kidded"]:
        check(span_d=today - day(doe["kidded"]["on"]))


def _grown_by_default(doe: Mapping[str, Any], today: Day) -> bool:
    """Nobody said whether she has kidded, nor anything that would make her young: most does of a herd have."""
    f = doe["f"]
    if f.get("kiddings_before") is not None or doe["kiddings"] or doe["kidded"] or f.get("growing"):
        return False
    return not f.get("born_on") or today - day(f["born_on"]) >= values("growth")["grown_age_d"]


def last_score(doe: Mapping[str, Any], today: Day) -> int:
    """Last condition score x 100, 0 when there is none."""
    seen = [row[1] for row in doe["scores"] if day(row[0]) <= today]
    return int(seen[-1]) if seen else 0


def _stages(rules: Mapping[str, int], size: str, first: bool, served: Service | None, milk: Milk, score: int) -> Stages:
    rule = CloseUp(
        rules["close_up_single_day"],
        # many or thin is never later than everybody else, however long a herd builds up
        max(rules["close_up_many_before_d"], rules["close_up_before_d"]),
        rules["close_up_before_d"],
        rules["score_thin_x100"],
        rules["score_fat_x100"],
    )
    length = served.length if served else rules[f"preg_days_{size}"]
    kids = served.counted if served else 0
    # her own planned day when she is in milk; the herd's day of gestation when she is not
    dry_off = rules[f"dry_off_day_{size}"]
    if served and milk.dry_off is not None and milk.dried is None:
        dry_off = milk.dry_off - served.conception
    return Stages(
        settled_d=rules["settled_day"],
        drying_off_d=dry_off - rules["dry_off_taper_d"],
        dry_off_d=dry_off,
        close_up_d=close_up_day(length, size, first, kids, score, rule),
        watch_d=served.early - served.conception if served else length,
        fresh_d=rules["fresh_days"],
    )
