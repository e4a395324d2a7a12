"""Entries for hypothesis: what a farm's door may let in though nobody should record it, deep, in knots, of any type."""

from __future__ import annotations

import json
from typing import Any

from hypothesis import strategies as st

from herd.state.kinds import CHAINS, KINDS
from tests.support.paths import ROOT

Fact = dict[str, Any]
GOLDEN: dict[str, Any] = {
    event["kind"]: event["data"]
    for path in sorted((ROOT / "tests/vectors/events").glob("*.json"))
    for event in [json.loads(path.read_text())["event"]]
    if event["v"] == KINDS[event["kind"]].newest
}
NAMES = ("__proto__", "constructor", "prototype", "toString", "hasOwnProperty", "valueOf", "f", "of", "data", "")
PLAIN = tuple(kind for kind in GOLDEN if kind not in CHAINS)
# Codes of the farm's own feeds that mean something to the language of the phones.
CODES = ("constructor", "oats", "grass_hay", "0", "length", "name")
LATEST_MS = 253_402_300_799_000
MOST = 8

names = st.one_of(st.sampled_from(NAMES), st.text(max_size=4))
scalars = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(-(2**64), 2**64),
    st.sampled_from((2**53, 2**53 + 1, -(2**53) - 1, 10**15, 10**40, -0.0, 1e300, 0.5, 2.0)),
    st.floats(allow_nan=False, allow_infinity=False),
    st.sampled_from(NAMES),
    st.sampled_from(("2026-02-30", "9999-12-31", "a|b", "\u2028", "\u202e", "\0", "\U0001f410", "x" * 3_000)),
    st.text(max_size=6),
)
values = st.recursive(
    scalars,
    lambda inner: st.one_of(st.lists(inner, max_size=3), st.dictionaries(names, inner, max_size=3)),
    max_leaves=6,
)
tables = st.dictionaries(names, values, max_size=4)
known_tables = st.sampled_from(sorted(PLAIN)).map(lambda kind: GOLDEN[kind])
subjects = st.integers(0, 3)


@st.composite
def deep(draw: st.DrawFn) -> Any:
    """One inside the other, up to and beyond what the door takes."""
    made = draw(scalars)
    for _ in range(draw(st.sampled_from((5, 29, 30, 31, 40, 300, 900)))):
        made = {draw(st.sampled_from(("a", "__proto__"))): made} if draw(st.booleans()) else [made]
    return made


@st.composite
def unknown(draw: st.DrawFn) -> Fact:
    kind = draw(st.sampled_from(("sheared", "constructor", "__proto__", "toString", *GOLDEN)))
    version = draw(st.integers(10, 1_000) if kind in KINDS else st.integers(1, 1_000))
    data = draw(st.one_of(tables, known_tables, deep().map(lambda one: {"x": one})))
    return {"kind": kind, "v": version, "data": data}


@st.composite
def spoiled(draw: st.DrawFn) -> Fact:
    kind = draw(st.sampled_from(sorted(GOLDEN)))
    data = dict(GOLDEN[kind])
    if data and draw(st.booleans()):
        data[draw(st.sampled_from(sorted(data)))] = draw(values)
    else:
        data[draw(names)] = draw(values)
    return {"kind": kind, "data": data}


@st.composite
def named(draw: st.DrawFn) -> Fact:
    """Sound by every table, and called as nobody calls it."""
    code, name = draw(st.sampled_from(CODES)), draw(st.sampled_from(("constructor", "a1", "level_pm", "close_up_day")))
    on = "2026-11-02"
    steps = [{"on": on, "g": draw(st.integers(0, 60_000))}]
    made: dict[str, Fact] = {
        "ration": {"to": "doe", "slot": "morning", "feed": code, "base": "", "steps": steps},
        "fed": {"adds": draw(st.booleans()), "lines": [{"to": "", "feed": code, "g": draw(st.integers(0, 60_000))}]},
        "intake": {"how": "left_some", "left_pct": 40, "feed": code, "fed": ""},
        "got_into": {"feed": code, "g": None},
        "new_bag": {"feed": code},
        "rules": {"f": {name: draw(st.integers(-(10**9), 10**9))}, "base": {name: ""}},
        "doe": {"f": {"wont_eat": [code], "name": draw(st.sampled_from(("constructor", "\u202e", "Ivy")))}, "base": {}},
        "lot": {"f": {"name": "First cut", "feed": code}, "base": {"constructor": ""}},
        "feed": {"f": {"name": "Mix", "like": code, "class": "grain", "sprout_of": code}, "base": {}},
        "jar": {"f": {"name": "", "feed": code, "dry_g": 500, "soaked_on": on, "days": 6}, "base": {}},
        "scoop": {"f": {"name": "Tin", "feed": code}, "base": {}},
        "calibration": {"of": "flake", "fills_g": [1_000], "lot": code},
        "treatment": {**GOLDEN["treatment"], "milk_until": "9999-12-31"},
    }
    kind = draw(st.sampled_from(sorted(made)))
    return {"kind": kind, "data": made[kind]}


@st.composite
def link(draw: st.DrawFn) -> Fact:
    """Of one before it, after it or itself: some name each other, and most what nobody would."""
    kind = draw(st.sampled_from(CHAINS))
    data: Fact = {"of": draw(st.integers(0, MOST - 1))}
    if kind == "correct":
        data["data"] = draw(st.one_of(known_tables, tables))
        if draw(st.booleans()):
            data[draw(st.sampled_from(("on", "slot", "happened")))] = draw(
                st.one_of(values, st.sampled_from(("2026-11-03", "morning", 1_794_744_000_000)))
            )
    return {"kind": kind, "data": data}


@st.composite
def placed(draw: st.DrawFn) -> Fact:
    """Sound in itself, at a time, by a clock or with an envelope that is none."""
    kind = draw(st.sampled_from(sorted(PLAIN)))
    odd = draw(
        st.one_of(
            st.fixed_dictionaries({"happened": st.sampled_from((0, 1, LATEST_MS))}),
            st.fixed_dictionaries({"on": st.sampled_from(("0001-01-01", "9999-12-31", "2026-02-29"))}),
            st.fixed_dictionaries({"hlc": st.sampled_from(("0" * 12 + "-0000-00000000", "f" * 12 + "-ffff-ffffffff"))}),
            st.dictionaries(
                st.sampled_from(("id", "kind", "v", "subject", "slot", "entered", "author")), values, max_size=2
            ),
        )
    )
    return {"kind": kind, "data": GOLDEN[kind], **odd}


sound = st.sampled_from(sorted(PLAIN)).map(lambda kind: {"kind": kind, "data": GOLDEN[kind]})
entries = st.lists(
    st.tuples(
        st.sampled_from(("owner", "helper")),
        subjects,
        st.one_of(unknown(), spoiled(), named(), link(), placed(), sound),
    ),
    min_size=1,
    max_size=MOST,
)
