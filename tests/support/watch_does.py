"""Named does near kidding: what somebody saw of each and when, the hour it is now, and what a phone says of her then.

    python -m tests.support.watch_does [NAME ...]

prints it; `tests/acceptance/test_watch_words.py` holds the words. Looks are hours before now.
"""

from __future__ import annotations

import json
import sys
import tempfile
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

from frontend import client_build
from herd.outlook.book import compile_book
from herd.outlook.compile import compile_doe
from herd.outlook.evaluate import FarmDay
from herd.outlook.rules import rules_of
from herd.state.fold import fold
from tests.support.log import Log

TODAY = datetime(2026, 11, 20, tzinfo=UTC)
HOUR_MS = 3_600_000
READER = "tests/support/watch_aloud.mjs"
STANDARD = {"size": "standard", "breed": "grade", "born_on": "2021-03-01", "kiddings_before": 3}
MINI = {"size": "mini", "breed": "nigerian_dwarf", "born_on": "2022-03-01", "kiddings_before": 2}
FIRST = {"size": "standard", "breed": "grade", "born_on": "2025-03-01", "kiddings_before": 0}
ALPINE = {**STANDARD, "breed": "alpine"}
LOOKED = ("teats_strutted", "mucus_amber", "pawing")


@dataclass(frozen=True)
class Look:
    """So many hours before now: what was there, and what was looked for and was not."""

    ago_h: float
    seen: tuple[str, ...] = ()
    absent: tuple[str, ...] = LOOKED


def quiet(*ago_h: float) -> tuple[Look, ...]:
    return tuple(Look(hours) for hours in ago_h)


def saw(ago_h: float, *signs: str) -> Look:
    return Look(ago_h, signs, ())


@dataclass(frozen=True)
class Near:
    """One doe: day of gestation today, or days with the buck before that; what is known of her; looks; the hour."""

    gest: int
    hour: float = 21.67
    looks: tuple[Look, ...] = ()
    f: dict[str, Any] = field(default_factory=lambda: STANDARD)
    kids: int = 0
    window: int = 1
    past: tuple[int, ...] = ()
    limit_h: int | None = None

    def now_ms(self, on: int = 0) -> int:
        return round((TODAY + timedelta(days=on, hours=self.hour)).timestamp() * 1000)

    def at(self, later_h: float) -> tuple[Near, int]:
        """The same doe so many hours later, with looks as long ago as they are by then."""
        hour = self.hour + later_h
        looks = tuple(replace(look, ago_h=look.ago_h + later_h) for look in self.looks)
        return replace(self, hour=hour % 24, looks=looks), int(hour // 24)


def told(name: str, doe: Near, on: int = 0) -> dict[str, Any]:
    """What a phone has of her, as `watch_aloud.ts` reads it; `on`: days from the day her gestation is counted on."""
    today = (TODAY + timedelta(days=on)).date()
    log = _log(doe, on)
    view = fold(log.events)
    rules = {**view["rules"]["f"], **rules_of(view["rules"]["f"])}
    outlook = dict(compile_doe(view["does"]["doe"], rules, today, "doe"))
    book = dict(compile_book(view))
    farm = FarmDay(view, {"doe": outlook}, book, today.isoformat())
    now = doe.now_ms(on)
    results = farm.ask("results")
    return {
        "name": name,
        "on": today.isoformat(),
        "now": now,
        "view": {part: view[part] for part in ("does", "pens", "feeds", "lots", "scoops", "rules")},
        "signs": book["signs"],
        "results": results,
        "chances": farm.ask("chances_at", "doe", {"day": today.isoformat(), "minute": round(doe.hour * 60), "ms": now}),
    }


def _log(doe: Near, on: int) -> Log:
    log = Log()
    log.record("doe", "doe", name="Wren", **doe.f)
    log.pen("p", "doe")
    if doe.limit_h is not None:
        log.record("rules", "farm", unattended_h=doe.limit_h)
    for year, length in enumerate(doe.past):
        kidded = TODAY - timedelta(days=doe.gest + 200 + 365 * (len(doe.past) - 1 - year))
        _bred(log, kidded - timedelta(days=length), 1)
        log.add("kidded", "doe", {"born": 2, "alive": 2}, _iso(kidded))
    first = TODAY - timedelta(days=doe.gest + doe.window - 1)
    _bred(log, first, doe.window)
    if doe.kids:
        check = {"result": "pregnant", "kids": doe.kids, "how": "scan"}
        log.add("preg_check", "doe", check, _iso(TODAY - timedelta(days=doe.gest - 50)))
    for look in sorted(doe.looks, key=lambda one: -one.ago_h):
        at = doe.now_ms(on) - round(look.ago_h * HOUR_MS)
        day = datetime.fromtimestamp(at / 1000, UTC)
        log.add("signs", "doe", {"seen": list(look.seen), "absent": list(look.absent)}, _iso(day), "late", happened=at)
    return log


def _bred(log: Log, first: datetime, window: int) -> None:
    last = first + timedelta(days=window - 1)
    how = "hand" if window == 1 else "pen"
    log.add("bred", "doe", {"from_on": _iso(first), "to_on": _iso(last), "how": how, "buck": ""}, _iso(last))


def _iso(at: datetime) -> str:
    return at.date().isoformat()


def aloud(rows: list[dict[str, Any]]) -> dict[str, dict[str, Any]]:
    """By name: what stands on her row, on the watch's page and on her own, and when the next look falls due."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder, "told.json")
        path.write_text(json.dumps(rows))
        run = client_build.run([READER, str(path)], check=True, capture_output=True)
    return {row["name"]: row for row in json.loads(run.stdout)}


DOES: dict[str, Near] = {
    # by day, before anything was seen
    "d140, nobody looked": Near(140),
    "d143, nobody looked": Near(143),
    "d146, nobody looked": Near(146),
    "d150, nobody looked": Near(150, 9),
    "d150, quiet at 21:40": Near(150, 21.75, quiet(0.08)),
    "d150, quiet, due": Near(150, 5, quiet(8)),
    "d150, quiet, missed by a day": Near(150, 21, quiet(26)),
    "d147, quiet at noon": Near(147, 12.5, quiet(0.1)),
    "d154, quiet": Near(154, 22, quiet(0.1)),
    "d157, quiet": Near(157, 22, quiet(0.1)),
    "d159, quiet": Near(159, 22, quiet(0.1)),
    "d163, quiet": Near(163, 22, quiet(0.1)),
    "d170, nobody": Near(170, 22),
    # ligaments
    "d150, ligaments felt": Near(150, 20, (Look(0.1, (), ("ligaments_gone",)),)),
    "d150, ligaments gone": Near(150, 20, (saw(0.1, "ligaments_gone"),)),
    "d150, ligaments gone, nothing new since": Near(150, 20, (saw(30, "ligaments_gone"), *quiet(24.5, 18, 8, 2))),
    "d150, ligaments gone, nobody since": Near(150, 20, (saw(30, "ligaments_gone"),)),
    "d150, ligaments gone, felt again": Near(
        150, 20, (saw(30, "ligaments_gone"), Look(1, (), ("ligaments_gone", *LOOKED)))
    ),
    "d144, ligaments gone": Near(144, 20, (saw(0.1, "ligaments_gone"),)),
    "d139, ligaments gone": Near(139, 20, (saw(0.1, "ligaments_gone"),)),
    "d141, ligaments gone": Near(141, 20, (saw(0.1, "ligaments_gone"),)),
    "d148, ligaments soft": Near(148, 20, (saw(0.1, "ligaments_soft", "udder_full"),)),
    # others
    "d150, udder tight": Near(150, 20, (saw(0.1, "teats_strutted"),)),
    "d150, amber": Near(150, 23, (saw(0.1, "mucus_amber"),)),
    "d150, pawing": Near(150, 2.5, (saw(0.1, "pawing"),)),
    "d150, pawing, stopped": Near(150, 6, (saw(3, "pawing"), Look(0.2))),
    "d150, off feed": Near(150, 20, (saw(0.1, "off_feed"),)),
    "d150, water bag": Near(150, 20, (saw(0.1, "water_bag"),)),
    "d150, water bag 70 min": Near(150, 20, (saw(1.2, "water_bag"),)),
    "d150, pushing": Near(150, 20, (saw(0.2, "straining"),)),
    "d150, water bag yesterday": Near(150, 20, (saw(26, "water_bag"),)),
    "d136, water bag": Near(136, 20, (saw(0.1, "water_bag"),)),
    "d130, pawing": Near(130, 20, (saw(0.1, "pawing"),)),
    "d120, amber": Near(120, 20, (saw(0.1, "mucus_amber"),)),
    # other does
    "mini d140, nobody": Near(140, f=MINI),
    "mini d145, quiet": Near(145, 22, quiet(0.1), MINI),
    "mini d145, ligaments gone": Near(145, 22, (saw(0.1, "ligaments_gone"),), MINI),
    "mini d136, ligaments gone": Near(136, 22, (saw(0.1, "ligaments_gone"),), MINI),
    "mini d154, quiet": Near(154, 22, quiet(0.1), MINI),
    "first freshener d147, udder full": Near(147, 20, (saw(0.1, "udder_full"),), FIRST),
    "triplets d145, quiet": Near(145, 20, quiet(0.1), kids=3),
    "alpine, 156 each time, d152, quiet": Near(152, 20, quiet(0.1), ALPINE, past=(156, 156, 157)),
    "alpine, 156 each time, d158, quiet": Near(158, 20, quiet(0.1), ALPINE, past=(156, 156, 157)),
    "ran 42 d, out 115 d ago": Near(115, 20, window=42),
    "ran 42 d, out 118 d ago, quiet": Near(118, 20, quiet(0.1), window=42),
    "ran 42 d, out 140 d ago, quiet": Near(140, 20, quiet(0.1), window=42),
    "ran 42 d, out 118 d ago, ligaments gone": Near(118, 20, (saw(0.1, "ligaments_gone"),), window=42),
    # the owner's limit
    "d151, quiet, limit 2 h": Near(151, 22, quiet(0.1), limit_h=2),
    "d151, quiet, limit 12 h": Near(151, 22, quiet(0.1), limit_h=12),
    "d153, quiet, limit 2 h": Near(153, 22, quiet(0.1), limit_h=2),
}


def main(names: list[str]) -> None:
    client_build.build_engine()
    chosen = {name: doe for name, doe in DOES.items() if not names or any(part in name for part in names)}
    for name, row in aloud([told(name, doe) for name, doe in chosen.items()]).items():
        pct = " ".join(f"{hours}h {chance}%" for hours, chance in (row["chances"] or {"hours": []})["hours"])
        print(f"## {name}   [{pct}]")
        print(*(f"   {part}: {row[part]}" for part in ("row", "watch", "page", "due") if row[part]), sep="\n")


if __name__ == "__main__":
    main(sys.argv[1:])
