"""The year's tasks: herd/outlook/tables/tasks.toml."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

from typescript import Name, table, ts, union

from herd.outlook.rules import RULES
from herd.outlook.tables import NUMBERS, TASKS

SOURCES = Path(__file__).resolve().parents[2] / "herd/science/sources.toml"
SHAPE = """/**
 * Days counted from its anchor; null is no task for her size. `shift`: moves with a herd rule; `every_d`: again and
 * again within them; `late_d`: of use so many days after; `still`: of use where it was over before she was written
 * down.
 */
export interface TaskRow {
  of: string;
  anchor: "season" | "bred" | "settled" | "due" | "kidded" | "born" | "last";
  standard: readonly [from: number, to: number] | null;
  mini: readonly [from: number, to: number] | null;
  watch: boolean;
  ask: boolean;
  shift: readonly [standard: RuleName, mini: RuleName, times: number] | null;
  every_d: number;
  late_d: number;
  still: boolean;
  source: string;
}
"""


def module() -> str:
    known = tomllib.loads(SOURCES.read_text(encoding="utf-8"))
    return "".join(
        [
            'import type { RuleName } from "./rules.ts";\n',
            SHAPE,
            union("TaskCode", TASKS),
            "/** In the order they stand on a list; no source where keepers do so and nobody published it. */\n",
            table(
                "TASKS", {code: _row(row, known) for code, row in TASKS.items()}, "Readonly<Record<TaskCode, TaskRow>>"
            ),
        ]
    )


def _row(row: dict[str, Any], known: dict[str, Any]) -> dict[str, Any]:
    source = row["source"]
    return {
        "of": row["of"],
        "anchor": row["anchor"],
        "standard": _days(row.get("standard")),
        "mini": _days(row.get("mini", row.get("standard"))),
        "watch": Name(ts(row.get("watch", False))),
        "ask": Name(ts(row.get("ask", False))),
        "shift": _shift(row.get("shift")),
        "every_d": Name(ts(row.get("every_d", 0))),
        "late_d": Name(ts(row.get("late_d", NUMBERS["task_late_d"]["value"]))),
        "still": Name(ts(row.get("still", False))),
        "source": "" if source == "practice" else f"{known[source]['title']}, {known[source]['authors']}",
    }


def _days(days: list[int] | None) -> Any:
    return days or Name("null")


def _shift(shift: dict[str, Any] | None) -> Any:
    """A rule has one name for both sizes, or one for each."""
    if shift is None:
        return Name("null")
    rule = shift["rule"]
    names = [rule, rule] if rule in RULES else [f"{rule}_standard", f"{rule}_mini"]
    return [*names, shift["times"]]
