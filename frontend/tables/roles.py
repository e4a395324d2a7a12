"""Who may record, take back and correct what: herd/state/tables/roles.toml."""

from __future__ import annotations

from typing import Any

from typescript import const, table, union

from herd.state.tables import FIELDS, ROLES

TYPES = """
/** `placed`: its own only in the entry that makes it; `never_sooner`: days that a link may only put off. */
export interface Way {
  record: "any" | "never" | "no_raise" | "no_end";
  own?: readonly Link[];
  others?: readonly Link[];
  placed?: readonly string[];
  never_sooner?: readonly string[];
}
type Link = "void" | "correct";
type Named = Record<string, string>;
"""


def ways() -> str:
    return "".join(
        [
            union("Role", ROLES["usual"]),
            TYPES,
            table("WAYS", {name: _way(row) for name, row in ROLES["way"].items()}, "Record<string, Way>"),
            "/** What a role may with a kind that stands nowhere below. */\n",
            const("USUAL", ROLES["usual"], "Record<Role, string>"),
            table("WAY_OF", {role: ROLES.get(role, {}) for role in ROLES["usual"]}, "Record<Role, Named>"),
        ]
    )


def _way(row: dict[str, Any]) -> dict[str, Any]:
    """A phone asks only whether a record stands: by whom it was made, the server judges."""
    row = {name: said for name, said in row.items() if name != "named"}
    if "placed" not in row:
        return row
    placed = [[*FIELDS["sets"][one[1:]]] if one.startswith("@") else [one] for one in row["placed"]]
    return {**row, "placed": [name for names in placed for name in names]}


def shown() -> str:
    """Apart from the rest: only one page reads it."""
    return const("SHOWN", ROLES["shown"], "Record<string, readonly string[]>")
