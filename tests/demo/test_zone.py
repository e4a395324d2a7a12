"""The demo farm lives in the zone of the machine, not in the one Django keeps its own clock in."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from herd.demo.zone import local_zone
from herd.management.commands.make_demo import Command


@pytest.mark.parametrize(
    ("tz", "linked", "zone"),
    [
        ("Europe/Vienna", "America/Chicago", "Europe/Vienna"),
        ("", "America/Chicago", "America/Chicago"),
        ("Nowhere/Land", "America/Chicago", "America/Chicago"),
        ("", "", "UTC"),
    ],
)
def test_tz_then_the_machine_s_own_then_utc(tmp_path: Path, tz: str, linked: str, zone: str) -> None:
    link = tmp_path / "localtime"
    link.symlink_to(Path("/usr/share/zoneinfo") / linked if linked else tmp_path / "nothing")
    assert local_zone(tz, link) == zone


def test_the_command_asks_for_the_zone_the_machine_was_started_with(settings: Any) -> None:
    settings.MACHINE_TZ = "America/Chicago"
    assert Command().create_parser("manage.py", "make_demo").get_default("zone") == "America/Chicago"
