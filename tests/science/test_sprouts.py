"""Sprouted grain: mostly water, and never more dry matter or energy than the grain that went in."""

from __future__ import annotations

import pytest

from herd.science.base.errors import OutOfRange
from herd.science.feeds.sprouts import DAYS, Grain, dm_loss, sprout

BARLEY = Grain(dm_pct=90, cp_pct=12.5, tdn_pct=84, ndf_pct=18.1, adf_pct=5.8, p_pct=0.37)


@pytest.mark.parametrize("day", DAYS)
def test_a_tray_holds_less_than_the_grain_did(day: int) -> None:
    tray = sprout(BARLEY, 1, day)
    assert tray.dm_kg < 0.9
    assert tray.tdn_kg < 0.9 * 0.84
    assert tray.dm_kg * tray.cp_pct / 100 < 0.9 * 0.125


@pytest.mark.parametrize("day", DAYS)
def test_phosphorus_is_neither_made_nor_lost(day: int) -> None:
    tray = sprout(BARLEY, 2, day)
    assert tray.dm_kg * tray.p_pct == pytest.approx(2 * 0.9 * 0.37)


def test_loss_only_grows() -> None:
    losses = [dm_loss(day) for day in DAYS]
    assert losses == sorted(losses)


def test_a_weighed_tray_overrides_the_usual_moisture_and_not_the_dry_matter() -> None:
    usual, wet = sprout(BARLEY, 1, 7), sprout(BARLEY, 1, 7, weighed_kg=7.0)
    assert wet.dm_kg == pytest.approx(usual.dm_kg)
    assert wet.dm_pct == pytest.approx(100 * usual.dm_kg / 7.0)


@pytest.mark.parametrize("day", [0, 9, -1])
def test_days_outside_the_trials_are_refused(day: int) -> None:
    with pytest.raises(OutOfRange):
        sprout(BARLEY, 1, day)


def test_a_tray_lighter_than_its_dry_matter_is_refused() -> None:
    with pytest.raises(OutOfRange):
        sprout(BARLEY, 1, 7, weighed_kg=0.5)
