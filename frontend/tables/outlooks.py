"""What outlooks are judged by: herd/outlook/tables."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

from typescript import const, table, ts, union

from herd.outlook.rules import OFFERED, ROWS, RULES
from herd.outlook.tables import CODES, FIRST_FEEDS, LIKES, NUMBERS, OFF_FEED, PROMPTS
from herd.outlook.tables import RULES as SECTIONS

SCIENCE = Path(__file__).resolve().parents[2] / "herd/science"
PARAMETERS = SCIENCE / "parameters"


def rules() -> str:
    limits = {name: [rule.default, rule.low, rule.high] for name, rule in RULES.items()}
    return "".join(
        [
            union("RuleName", RULES),
            "/** Our default, and the lowest and highest a farm may choose. */\n",
            table(
                "RULES", limits, "Readonly<Record<RuleName, readonly [standard: number, low: number, high: number]>>"
            ),
        ]
    )


def rules_offered() -> str:
    """Apart from the rest: the list of the barn goes by none of it."""
    choices = {name: _ours_first(row) for name, row in ROWS.items() if "choices" in row}
    return "".join(
        [
            "/** Where published systems differ: the value that stands for each. */\n",
            const("CHOICES", choices),
            "/** What a farm is offered to set, by subject. */\n",
            const("GROUPS", [[group, list(SECTIONS[group])] for group in OFFERED]),
        ]
    )


def _ours_first(row: dict[str, Any]) -> dict[str, int]:
    return dict(sorted(row["choices"].items(), key=lambda choice: choice[1] != row["default"]))


def prompts() -> str:
    rows: dict[str, Any] = PROMPTS["prompts"]
    of_pen = sorted((code for code in rows if "of_pen" in rows[code]), key=lambda code: int(rows[code]["of_pen"]))
    return "".join(
        [
            union("PromptCode", rows),
            "/** The most serious is said first. */\n",
            table("RANKS", {code: row["rank"] for code, row in rows.items()}, "Readonly<Record<PromptCode, number>>"),
            const("FIRST_OF_SUMS", PROMPTS["first_of_sums"], "number"),
            "/** Looked at before anything else is done. */\n",
            const("LOOK_NOW", [code for code in rows if rows[code].get("look_now")], "readonly string[]"),
            "/** Said once for a pen, in this order. */\n",
            const("OF_PEN", of_pen, "readonly PromptCode[]"),
        ]
    )


def off_feed() -> str:
    """Apart from the rest: what a doe off her feed is judged by, and what each word rests on."""
    grid = {stage: row["urgency"] for stage, row in OFF_FEED["grid"].items()}
    strips = {strip: row["word"] for strip, row in OFF_FEED["urine"].items()}
    seen = {part: {word: row["prompt"] for word, row in words.items()} for part, words in OFF_FEED["seen"].items()}
    rests_of = {code: row["rests"] for code, row in PROMPTS["prompts"].items() if "rests" in row}
    return "".join(
        [
            'import type { PromptCode } from "./prompts.ts";\n',
            const("URGENCIES", OFF_FEED["urgencies"]),
            "export type Urgency = (typeof URGENCIES)[number];\n",
            const("OFF_FEED_PROMPT", OFF_FEED["prompts"], "Readonly<Record<Urgency, PromptCode>>"),
            union("Stage", grid),
            "/** Left some or slow, refused, not up. */\n",
            table(
                "OFF_FEED", grid, "Readonly<Record<Stage, readonly [left: Urgency, refused: Urgency, down: Urgency]>>"
            ),
            const("URINE", strips, 'Readonly<Record<string, "vet" | "act" | "watch">>'),
            const("SEEN", seen, _record("Readonly<Record<string, PromptCode>>", seen)),
            table("TAKE", OFF_FEED["take"], "Readonly<Record<Stage, readonly string[]>>"),
            const("EARLY_SIGNS", OFF_FEED["early"]["signs"], "readonly string[]"),
            union("Rest", OFF_FEED["rests"]),
            "/** What a word rests on: its source where there is one, and how it stands. */\n",
            table("RESTS", _rests(), "Readonly<Record<Rest, readonly [source: string, standing: string]>>"),
            "/** What a prompt rests on where its case does not say. */\n",
            const("RESTS_OF", rests_of, "Readonly<Partial<Record<PromptCode, readonly Rest[]>>>"),
        ]
    )


def _record(of: str, rows: dict[str, Any]) -> str:
    return f"Readonly<Record<{' | '.join(map(ts, rows))}, {of}>>"


def _rests() -> dict[str, list[str]]:
    known = tomllib.loads((SCIENCE / "sources.toml").read_text(encoding="utf-8"))

    def titled(source: str) -> str:
        return "" if source in ("practice", "judgement") else f"{known[source]['title']}, {known[source]['authors']}"

    return {rest: [titled(row["source"]), row["standing"]] for rest, row in OFF_FEED["rests"].items()}


def codes() -> str:
    places = {name: {code: place for place, code in enumerate(CODES[name])} for name in ("phases", "lanes")}
    return "".join(
        [
            "/** Places in the lists of codes, as outlooks have them. */\n",
            const("PHASE", places["phases"]),
            const("LANE", places["lanes"]),
            const("FORAGE", CODES["forage"], "readonly string[]"),
            const("LEGUME", CODES["legume"], "readonly string[]"),
            const("CONCENTRATE", CODES["concentrate"], "readonly string[]"),
            "/** By class, the feed an own one is taken to be most like. */\n",
            const("LIKES", {of: row["feed"] for of, row in LIKES.items()}, "Readonly<Record<string, string>>"),
            "/** What a keeper's word for hay or grain is taken for on a new farm. */\n",
            const(
                "FIRST_FEEDS",
                {
                    of: {word: [row["feed"], row["class"]] for word, row in rows.items()}
                    for of, rows in FIRST_FEEDS.items()
                },
            ),
            "/** Feeds that any store has. */\n",
            const("BOUGHT", CODES["bought"], "readonly string[]"),
        ]
    )


def numbers() -> str:
    return "".join(
        f"/** {row['unit']} */\n" + const(name.upper(), value_of(row), _type(row)) for name, row in NUMBERS.items()
    )


def _type(row: dict[str, Any]) -> str:
    """A bare number is any number to the compiler: which one it is must not matter to the code."""
    return "number" if isinstance(value_of(row), (int, float)) else ""


def value_of(row: dict[str, Any]) -> Any:
    """Its own, or that of the parameter of the science it names, so many times."""
    if "of" not in row:
        return row["value"]
    topic, name = row["of"].split(".")
    found = tomllib.loads((PARAMETERS / f"{topic}.toml").read_text(encoding="utf-8"))[name]["value"]
    value = found * row["times"]
    assert value == int(value), row["of"]
    return int(value)
