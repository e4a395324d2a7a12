"""The years as a document for the phones: whole numbers, a bounded size, one for the herd."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from herd.science import VERSION

from ..shapes import YearsDoc
from .leads import SignFigures, sign_rows
from .lengths import length_rows
from .lines import fed_a_day_g, keepers, line_of
from .numbers import N
from .seasons import PHASES, Fed, Season
from .told import comparisons

YEARS = "years"
SCHEMA = 1
NOBODY = -1
# What the page says it goes by.
SAID_BY = (
    *("tell_least_n", "tell_errors_x10", "late_from_d", "line_least_n", "line_least_seasons", "line_least_pm"),
    *(
        "line_most_pm",
        "used_from_n",
        "timed_from_h",
        "lead_prior_n",
        "spread_prior_n",
        "lead_times_most",
        "length_moves_x10",
    ),
)


def years_document(
    view: Mapping[str, Any],
    seasons: list[Season],
    signs: Mapping[str, SignFigures],
    lengths: Mapping[str, list[float]],
    today: str,
) -> YearsDoc:
    """All kiddings go into the years and the lines; the newest are also there one by one.

    Parameters
    ----------
    view : folded view with records and states
    seasons : in order of kidding
    signs, lengths : as `leads.figures` and `lengths.lengths` have them
    today : farm-local date

    Returns
    -------
    Document of whole numbers: grams, permille, minutes, tenths of days. -1 is not known.
    """
    lines, sizes = line_of(view), {doe: str(row["f"].get("size", "")) for doe, row in view["does"].items()}
    newest = seasons[-N["rows_most"] :]
    does = sorted({one.kidding.doe for one in newest})
    place = {doe: n for n, doe in enumerate(does)}
    return {
        "schema": SCHEMA,
        "science": VERSION,
        "doe": YEARS,
        "rev": 0,
        "compiled_on": today,
        "kiddings": len(seasons),
        "by": {name: N[name] for name in SAID_BY},
        "does": [[doe, lines[doe]] for doe in does],
        "rows": [_row(one, place[one.kidding.doe]) for one in newest],
        "years": _years(seasons),
        "lines": _lines(seasons, lines, sizes),
        "told": comparisons(seasons, sizes),
        "signs": sign_rows(dict(signs)),
        "lengths": length_rows(lengths),
    }


def _row(one: Season, doe: int) -> list[Any]:
    """[doe, date, born, alive, kids weighed, their grams, help, ill, scores at breeding, drying off and kidding, days
    carried, milk g a day, days of milk, then per phase: days, days with feed, hay g, grain g, legume permille]."""
    kid = one.kidding
    scores = [one.scores.get(name, NOBODY) for name in ("bred", "dry", "kid")]
    milk = round(one.milk_g / one.milk_days) if one.milk_days else NOBODY
    head = [doe, kid.on, kid.born, kid.alive, kid.weighed, kid.birth_g, kid.help, one.ill, *scores, kid.length]
    return [*head, milk, one.milk_days, [_phase(one.phases[name]) for name in PHASES]]


def _phase(fed: Fed) -> list[int]:
    legume = round(1000 * fed.legume_g / fed.hay_g) if fed.hay_g else NOBODY
    return [fed.length_d, fed.days, round(fed.hay_g), round(fed.grain_g), legume]


def _sums(rows: list[Season]) -> list[int]:
    """[kiddings, does, born, alive, kids weighed, their grams, of how many help is known, helped, of how many it is
    known whether they were ill, ill, days with feed up to kidding, hay g and grain g in them, legume g]."""
    kids = [one.kidding for one in rows]
    fed = [one.phases[name] for one in rows for name in ("early", "late")]
    return [
        len(rows),
        len({kid.doe for kid in kids}),
        *(sum(values) for values in zip(*((k.born, k.alive, k.weighed, k.birth_g) for k in kids), strict=True)),
        sum(kid.help >= 0 for kid in kids),
        sum(kid.help > 0 for kid in kids),
        sum(one.ill >= 0 for one in rows),
        sum(one.ill > 0 for one in rows),
        sum(one.days for one in fed),
        *(round(sum(values)) for values in zip(*((f.hay_g, f.grain_g, f.legume_g) for f in fed), strict=True)),
    ]


def _years(seasons: list[Season]) -> list[list[Any]]:
    by_year: dict[str, list[Season]] = {}
    for one in seasons:
        by_year.setdefault(one.kidding.on[:4], []).append(one)
    return [[int(year), *_sums(rows)] for year, rows in sorted(by_year.items())[-N["years_most"] :]]


def _lines(seasons: list[Season], lines: Mapping[str, str], sizes: Mapping[str, str]) -> list[dict[str, Any]]:
    """Those with most kiddings first, as many as there may be rows."""
    by_line: dict[str, list[Season]] = {}
    for one in seasons:
        by_line.setdefault(lines[one.kidding.doe], []).append(one)
    found = keepers(seasons, lines, sizes)
    ordered = sorted(by_line.items(), key=lambda item: (-len(item[1]), item[0]))[: N["lines_most"]]
    made = []
    for line, rows in ordered:
        fed = [g for one in rows if (g := fed_a_day_g(one)) is not None]
        row = {"line": line, "sums": _sums(rows), "fed_g": round(sum(fed) / len(fed)) if fed else NOBODY}
        if keeper := found.get(line):
            row["keeper"] = [keeper.away_pm, keeper.error_pm, keeper.n, keeper.seasons, int(keeper.said)]
        made.append(row)
    return made
