from __future__ import annotations

from datetime import timedelta
from io import StringIO
from pathlib import Path
from typing import Any

import pytest
from django.core.management import CommandError, call_command

from herd.demo.make import make_demo
from herd.models import OutlookRow
from herd.outlook import engine
from herd.services.clock import day_of, now_ms
from herd.services.wire import decode

ZONE = "UTC"


@pytest.fixture(autouse=True)
def farm(db: None, quick_hashes: None, tmp_path: Path) -> None:
    make_demo(tmp_path, ZONE, 20, now_ms())


def explained(*arguments: Any) -> str:
    out = StringIO()
    call_command("explain", *arguments, stdout=out)
    return out.getvalue()


@pytest.mark.parametrize(
    ("doe", "nutrient", "code"),
    [
        ("Yarrow", "me", "energy_short"),
        ("mallow", "ca", "calcium_short"),
        ("CLOVER", "me", "energy_over"),
        ("Marigold", "cp", "off_feed_"),
        ("Sedge", "p", "record_next"),
        ("Bramble", "me", "none"),
    ],
)
def test_it_ends_with_her_prompt(doe: str, nutrient: str, code: str) -> None:
    assert f"prompt: {code}" in explained(doe, "--nutrient", nutrient)


def test_a_past_day_is_explained_as_of_that_day() -> None:
    then = day_of(now_ms(), ZONE) - timedelta(days=20)
    text = explained("Teasel", "--on", then)
    assert f"outlook of {then}" in text


def test_a_doe_is_found_by_her_id_as_well() -> None:
    doe = next(row.doe for row in OutlookRow.objects.exclude(doe=""))
    assert decode(OutlookRow.objects.get(doe=doe).doc)["doe"] == doe
    assert "Who" in explained(doe).splitlines()


def test_an_unknown_name_lists_who_there_is() -> None:
    with pytest.raises(CommandError, match=r"No doe is called Nobody\. There are: .*Yarrow \(Tumblegate"):
        explained("Nobody")


def test_a_day_before_she_came_is_said() -> None:
    with pytest.raises(CommandError, match="not yet recorded"):
        explained("Sedge", "--on", day_of(now_ms(), ZONE).replace(year=2020, day=1))


def test_an_evaluator_that_is_not_built_says_what_to_run(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr(engine, "BUNDLE", tmp_path / "none.js")
    monkeypatch.setattr(engine, "ask", engine.Engine().ask)
    with pytest.raises(CommandError, match=r"python manage\.py build_client"):
        explained("Yarrow")
