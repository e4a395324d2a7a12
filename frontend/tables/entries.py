"""What entries may carry: herd/state/tables."""

from __future__ import annotations

from typing import Any

from typescript import Name, const, table, ts, union

from herd.state import kinds
from herd.state.readable import CONTENT
from herd.state.tables import APART, CODES, FIELDS, KEPT
from herd.state.tables import KINDS as TABLE

TYPES = """
/** What a field may hold: the checks of core/events/checks.ts by name, with their limits. */
export type Field =
  | readonly ["whole", low: number, high: number, step?: number]
  | readonly ["text", low: number, high: number]
  | readonly ["choice" | "codes", options: readonly string[]]
  | readonly ["flag" | "day" | "content"]
  | readonly ["match", pattern: keyof typeof PATTERNS]
  | readonly ["feeds" | "ids", most: number]
  | readonly ["numbers", most: number, low: number, high: number]
  | readonly ["rows", most: number, row: Fields]
  | readonly ["or", empty: "" | 0 | null, field: Field]
  | readonly ["may", field: Field];
export type Fields = Readonly<Record<string, Field>>;
"""
EMPTY: dict[str, Any] = {"blank": "", "zero": 0, "unknown": None}
FIRST = "slots"
LISTS = "Record<string, readonly string[]>"
GROUPS = {
    "RECORD_KINDS": kinds.RECORDS,
    "STATE_KINDS": kinds.STATES_OF_DOE,
    "OF_DOE_KINDS": kinds.SEEN_OF_DOE,
    "MEAL_KINDS": kinds.MEALS,
    "BARN_KINDS": kinds.SEEN_OF_BARN,
    "MEASURE_KINDS": kinds.MEASURES,
    "CHAIN_KINDS": kinds.CHAINS,
    "SEEN_KINDS": kinds.SEEN,
}


def module() -> str:
    """What stands in every entry: its kind, its version, its meal."""
    return "".join(
        [
            const(FIRST.upper(), CODES[FIRST]),
            "export type Slot = (typeof SLOTS)[number];\n",
            *(const(name, group) for name, group in GROUPS.items()),
            union("Kind", kinds.KINDS),
            const("VERSIONS", {kind.name: kind.newest for kind in kinds.KINDS.values()}, "Record<Kind, number>"),
        ]
    )


def forms() -> str:
    """What the second script folds and checks by: nothing of it is needed to store a tap."""
    return "".join(
        [
            'import { SLOTS } from "./entries.ts";\n',
            *(const(name.upper(), words) for name, words in CODES.items() if name != FIRST),
            "/** What a phone keeps of what was seen: days, and the latest of each doe. */\n",
            const("KEPT_D", KEPT["days"], "number"),
            const("KEPT_MARGIN_D", KEPT["margin_days"], "number"),
            const("KEPT_LATEST", KEPT["latest"], "Readonly<Record<string, number>>"),
            "/** By kind, what the fold relies on: `field:type`. */\n",
            table("READS", CONTENT, "Record<string, string>"),
            "/** By kind and field: which of two values counts until somebody has chosen. */\n",
            table("CAREFUL", APART["careful"], "Record<string, Record<string, string>>"),
            "/** By kind: every field is asked about but these. */\n",
            const("EVERY_BUT", {kind: row["but"] for kind, row in APART["every_field"].items()}, LISTS),
            const("MOST_WHOLE", FIELDS["whole"]["most"], "number"),
            const("PATTERNS", FIELDS["patterns"]),
            TYPES,
            const("ENVELOPE", _fields(FIELDS["envelope"]), "Fields"),
            const("ANY_RULE", _fields(FIELDS["any_rule"]), 'Record<"number" | "word", Field>'),
            const("ONE_DOE_G", field(FIELDS["one_doe"]["g"]), "Field"),
            const("SCORE_X100", [TABLE["score"]["1"]["x100"][edge] for edge in ("low", "high")]),
            *(const(name.upper(), _fields(fields), "Fields") for name, fields in FIELDS["sets"].items()),
            "/** By kind and version. */\n",
            table("FORMS", _forms(), "Record<string, Fields>"),
        ]
    )


def field(described: dict[str, Any]) -> list[Any]:
    """A field as a tuple: what it is, then its limits in the order of the type above."""
    made = _bare(described)
    made = ["or", EMPTY[described["or"]], made] if "or" in described else made
    return ["may", made] if described.get("may") else made


def _bare(described: dict[str, Any]) -> list[Any]:
    is_, of = described["is"], described.get("of")
    if is_ in FIELDS["patterns"]:
        return ["match", is_]
    if of is not None:
        return [is_, Name(of.upper()) if isinstance(of, str) else of]
    if is_ == "rows":
        return [is_, described["most"], _fields(described["row"])]
    return [is_, *(described[limit] for limit in ("most", "low", "high", "step") if limit in described)]


def _fields(table_: dict[str, Any]) -> dict[str, Any]:
    return {name: field(described) for name, described in table_.items()}


def _forms() -> dict[str, Any]:
    return {
        f"{kind.name} {version}": Name(_form(TABLE[kind.name][str(version)]))
        for kind in kinds.KINDS.values()
        for version in kind.versions
    }


def _form(version: dict[str, Any]) -> str:
    own = [f"{name}: {ts(field(described))}" for name, described in version.items() if name != "with"]
    spread = [f"...{name.upper()}" for name in version.get("with", ())]
    return f"{{ {', '.join([*own, *spread])} }}"
