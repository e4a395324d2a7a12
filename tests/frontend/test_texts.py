"""Spanish says what English says now: `python -m tests.support.missing_texts` prints what is to be done."""

from __future__ import annotations

import json
import re

import pytest

from tests.support import missing_texts
from tests.support.missing_texts import CARDS, NAMES, TEXTS, WORDS, english, known
from tests.support.paths import ROOT

HINT = "python -m tests.support.missing_texts"
NUMBER = re.compile(r"\d+(?:[.,]\d+)*")
HOLE = re.compile(r"\{(\w+)")
FAMILIAR = re.compile(r"[!¡]|\b(?:por favor|tú|tus?|ti|contigo|puedes|debes|tienes)\b", re.I)


def pairs() -> list[tuple[str, str, str]]:
    said, texts = known(), english()
    return [(key, texts[name][key], said[name][key]) for name in said for key in said[name]]


def test_nothing_is_missing_and_nothing_was_made_from_an_older_sentence() -> None:
    assert missing_texts.missing() == {}, HINT


@pytest.mark.parametrize("name", [WORDS, NAMES, CARDS, missing_texts.MADE_FROM])
def test_the_files_stand_as_they_are_written(name: str) -> None:
    assert json.loads((TEXTS / name).read_text()) == missing_texts.files({})[name], HINT


def test_there_are_as_many_pairs_as_there_are_sentences() -> None:
    assert len(pairs()) == sum(len(texts) for texts in english().values()) > 1700


def test_both_ask_for_the_same_arguments() -> None:
    assert [key for key, one, other in pairs() if set(HOLE.findall(one)) != set(HOLE.findall(other))] == []


def test_every_brace_belongs_to_an_argument() -> None:
    """An argument within an argument would be shown as it stands."""
    whole = re.compile(r"\{\w+(?:\?[^:{}]*:[^{}]*)?\}")
    left = [(key, text) for key, *both in pairs() for text in both if re.search(r"[{}]", whole.sub("", text))]
    assert left == []


def test_both_say_the_same_numbers() -> None:
    """A limit, an hour or a year that differs would be another rule."""

    def numbers(text: str) -> list[str]:
        return sorted(NUMBER.findall(re.sub(r"\{[^}]*\}", "", text)))

    assert [(key, one, other) for key, one, other in pairs() if numbers(one) != numbers(other)] == []


def test_spanish_is_calm_and_says_usted() -> None:
    assert [(key, said) for key, _, said in pairs() if FAMILIAR.search(said)] == []


def test_a_day_within_a_week_brings_its_own_article_in_spanish() -> None:
    """ "el viernes", "el 10 ene": what is said of a doe names its day so."""
    twice = re.compile(r"\b(?:el|del|al) \{(?:on|recheck_ms|at_ms)\}")
    told = [(key, said) for key, _, said in pairs() if key.startswith(("p.", "act.", "rest.", "gate."))]
    assert len(told) > 200
    assert [one for one in told if twice.search(one[1])] == []


def test_never_is_never_in_spanish() -> None:
    """Each line of a card that forbids something forbids it in Spanish too."""
    forbids = re.compile(r"^(?:No |Nunca|Nada de|Que ning|Las personas embarazadas no )")
    lines = [(at, said) for at, said in known()[CARDS].items() if re.search(r"\.never\.\d+\.t$", at)]
    assert len(lines) > 40
    assert [one for one in lines if not forbids.match(one[1])] == []


def codes_in(*paths: str) -> set[str]:
    """What stands as a code in an error the server may send from there."""
    said = re.compile(r'(?:\(\s*\d{3}|Problem\(|ApiError\(\d{3}),?\s*"([a-z_]+)"')
    return {code for path in paths for file in ROOT.glob(path) for code in said.findall(file.read_text())}


def test_every_code_of_a_refused_entry_has_a_sentence() -> None:
    codes = codes_in("herd/state/*.py", "herd/services/*.py")
    assert {"bad_field", "not_allowed", "id_reuse", "too_big"} <= codes
    assert [code for code in codes if f"refused.{code}" not in english()[WORDS]] == []


def test_every_code_at_the_door_has_a_sentence() -> None:
    """Signing in and making a farm show the server's code in words; the rest of the app never shows one as it came."""
    codes = codes_in("api/errors.py", "api/session.py", "api/farms.py", "api/access.py", "api/throttle.py")
    asked = codes - {"method", "not_here"}  # no screen of ours does the one; who is not here signs in
    assert {"wrong_password", "busy", "csrf", "server"} <= asked
    assert [code for code in asked if f"sign.{code}" not in english()[WORDS]] == []
