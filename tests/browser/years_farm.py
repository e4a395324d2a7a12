"""The three invented years on a running server, as a farm of somebody who signs in there."""

from __future__ import annotations

from tests.browser.barn import Barn

FARM, OWNER, WORD = "Three Years", "Orla", "wet gloves at dawn"
MAKE = f"""
from herd.models import Person
from herd.services.make_farm import make_farm
from herd.services.work import work_off
from herd.services.years import read_years
from tests.phones import Phone
from tests.support.three_years import ThreeYears
person = Person.objects.make({OWNER!r}, {WORD!r})
farm = make_farm({FARM!r}, "Etc/UTC", person)
ThreeYears(Phone(farm, person)).live()
work_off(farm.pk)
read_years(farm.pk)
"""


def make_years(barn: Barn) -> None:
    barn.server.manage("shell", "-c", MAKE)
