"""The table of who may what is whole, and what people are shown of it is all of it."""

from __future__ import annotations

import json
from collections import Counter

import pytest

from herd.models.farm import ROLES as NAMES
from herd.state.kinds import CHAINS, KINDS
from herd.state.tables import FIELDS, ROLES
from herd.state.tables import KINDS as FORMS
from tests.support.paths import ROOT

ROLE_NAMES = [role for role, _ in NAMES]
RECORDED = set(KINDS) - set(CHAINS)


def way(role: str, kind: str) -> str:
    return str(ROLES.get(role, {}).get(kind, ROLES["usual"][role]))


def test_each_role_has_a_usual_way_and_names_only_kinds_and_ways_there_are() -> None:
    assert list(ROLES["usual"]) == ROLE_NAMES
    assert set(ROLES) - {"usual", "way", "shown"} <= set(ROLE_NAMES)
    for role in ROLE_NAMES:
        assert ROLES.get(role, {}).keys() <= KINDS.keys()
        assert {way(role, kind) for kind in KINDS} <= ROLES["way"].keys()
    used = {way(role, kind) for role in ROLE_NAMES for kind in KINDS}
    assert ROLES["way"].keys() == used, "a way nobody has is no way"


@pytest.mark.parametrize("name", ROLES["way"])
def test_a_way_says_only_what_is_read(name: str) -> None:
    row = ROLES["way"][name]
    assert row.keys() <= {"record", "own", "others", "placed", "named", "never_sooner"}
    assert row["record"] in ("any", "never", "no_raise", "no_end")
    assert {*row.get("own", ()), *row.get("others", ())} <= set(CHAINS)
    kinds = [kind for kind in RECORDED for role in ROLE_NAMES if way(role, kind) == name]
    forms = [form for kind in kinds for form in FORMS[kind].values() if isinstance(form, dict)]
    known = {field for form in forms for field in form}
    assert ("placed" in row) == ("named" in row)
    for field in (*row.get("placed", ()), *row.get("named", ()), *row.get("never_sooner", ())):
        assert field[1:] in FIELDS["sets"] if field.startswith("@") else field in known, field


def test_people_are_shown_every_kind_once_and_a_group_is_one_way_for_each_role() -> None:
    shown = Counter(kind for kinds in ROLES["shown"].values() for kind in kinds)
    assert set(shown) == RECORDED
    assert set(shown.values()) == {1}
    for role in ROLE_NAMES:
        for group, kinds in ROLES["shown"].items():
            assert len({way(role, kind) for kind in kinds}) == 1, (role, group)


@pytest.mark.parametrize("language", ["en", "es"])
def test_each_line_of_the_page_has_its_words(language: str) -> None:
    texts = json.loads((ROOT / f"frontend/src/texts/{language}.json").read_text())
    for role in ROLE_NAMES:
        assert texts[f"may.role.{role}"]
        ways = {way(role, kinds[0]) for kinds in ROLES["shown"].values()}
        keys = [f"may.way.{name}" for name in ways] if ROLES.get(role) else [f"may.whole.{name}" for name in ways]
        assert all(texts[key] for key in keys)
    assert all(texts[f"may.of.{group}"] for group in ROLES["shown"])


@pytest.mark.parametrize("language", ["en", "es"])
def test_the_page_says_of_an_adviser_what_her_invitation_says(language: str) -> None:
    """Which does she is shown, and until when."""
    texts = json.loads((ROOT / f"frontend/src/texts/{language}.json").read_text())
    invited, whole = (texts[key].split(". ") for key in ("role.adviser.may", "may.whole.reads"))
    assert whole[0] == invited[0]


def test_only_who_plans_ends_what_keeps_milk_and_meat_and_changes_the_number_to_ring() -> None:
    """Said again here, so that a slip in the table is not a slip in everything made from it."""
    for role in ("helper", "adviser"):
        treatment, contact = (ROLES["way"][way(role, kind)] for kind in ("treatment", "contact"))
        assert not treatment.get("others")
        assert set(treatment.get("never_sooner", ())) >= {"milk_until", "meat_until"} or not treatment.get("own")
        assert (contact["record"], contact.get("own"), contact.get("others")) == ("never", None, None)
        assert ROLES["way"][way(role, "rules")]["record"] == "never"
        assert ROLES["way"][way(role, "ration")]["record"] in ("never", "no_raise")
