"""What may be a name, and which of them are the same."""

from __future__ import annotations

import pytest

from herd.services.names import BadName, as_typed, plain_name

SAME = ("\u200b", "\u2060", "\ufeff", "\u00ad", "\u034f", "\u180e", "\u200d", "\ufe0f", "\u3164", "\uffa0",
        "\u115f\u1160", "\U000e0041\U000e007f", "\U000e0100", "\u2065", "\ufff0")  # fmt: skip
NOTHING = ("", "   ", "\u3164", "\u2800", "\u115f\u1160", "\uffa0", "\u200b", "\u0301", "\U000e0041", "\u2800 \u200b")


@pytest.mark.parametrize("sign", SAME, ids=ascii)
def test_what_shows_nothing_makes_no_other_name(sign: str) -> None:
    for name in (f"Ada{sign}", f"{sign}Ada", f"A{sign}da", f"Ada {sign}"):
        assert as_typed(name) == plain_name(name) == "Ada"


@pytest.mark.parametrize("name", NOTHING, ids=ascii)
def test_a_name_that_shows_nothing_is_none(name: str) -> None:
    with pytest.raises(BadName, match=r"^Fill in the name\.$"):
        plain_name(name)


@pytest.mark.parametrize("name", ["...", "--", "\U0001f410", "\u2665\ufe0f", "()"], ids=ascii)
def test_signs_alone_are_no_name(name: str) -> None:
    with pytest.raises(BadName, match=r"^Write the name with a letter or a digit at least\.$"):
        plain_name(name)


@pytest.mark.parametrize(
    "name", ["Ada", "Zo\u00eb", "7", "\u5c71", "\u0627\u0645", "\u0967", "Ada \U0001f410", "O'Hill"]
)
def test_names_of_all_scripts_are_names(name: str) -> None:
    assert plain_name(name) == name


def test_one_name_in_one_form() -> None:
    assert as_typed(" Zoe\u0308\u2800\u00a0 Hill ") == "Zo\u00eb Hill"


@pytest.mark.parametrize("name", ["A\u202eda", "Ada\u200f", "A\u0007da", "Ada\ue000"], ids=ascii)
def test_what_turns_or_cannot_be_shown_is_refused_and_not_dropped(name: str) -> None:
    with pytest.raises(BadName, match="cannot be shown"):
        plain_name(name)
