"""Two people on one phone whose clock runs ahead: what the one wrote in sight of the other's entry stands, whoever's is
sent first."""

from __future__ import annotations

import pytest

from herd.models import Event
from tests.logs import record
from tests.phones import Phone, new_id

YEAR = 365 * 24 * 3_600_000


@pytest.fixture
def hers_too(ada: Phone, ben: Phone) -> Phone:
    """Ben on Ada's phone, a year ahead."""
    ada.fast_ms = YEAR
    return Phone(ben.farm, ben.person, fast_ms=YEAR, device=ada.device)


@pytest.mark.parametrize("first", ["of_later", "of_earlier"])
def test_what_was_written_last_on_that_phone_stands(ada: Phone, hers_too: Phone, first: str) -> None:
    doe = new_id()
    record(ada, ada.record("doe", doe, {"name": "Ivy"}))
    earlier = ada.record("doe", doe, {"name": "limps"})
    later = hers_too.record("doe", doe, {"name": "sound"}, name=earlier["hlc"])
    turns = [(hers_too, later), (ada, earlier)]
    for phone, entry in turns if first == "of_later" else reversed(turns):
        record(phone, entry)
    rows = sorted(Event.objects.filter(id__in=[earlier["id"], later["id"]]), key=lambda row: (row.hlc, row.id))
    assert [row.id for row in rows] == [earlier["id"], later["id"]]


def test_what_it_writes_next_comes_after_all_of_it(ada: Phone, hers_too: Phone) -> None:
    doe = new_id()
    record(ada, ada.record("doe", doe, {"name": "Ivy"}))
    earlier = [ada.record("doe", doe, {"name": name}) for name in ("limps", "limps a little")]
    later = hers_too.record("doe", doe, {"name": "sound"})
    last = ada.record("doe", doe, {"name": "limps again"})
    record(hers_too, later)
    record(ada, *earlier, last)
    rows = sorted(Event.objects.filter(kind="doe", subject=doe), key=lambda row: (row.hlc, row.id))
    assert [row.id for row in rows][1:] == [*(one["id"] for one in earlier), later["id"], last["id"]]


def test_another_phones_clock_has_no_say_in_it(ada: Phone, ben: Phone) -> None:
    doe = new_id()
    ada.fast_ms = ben.fast_ms = YEAR
    record(ada, ada.record("doe", doe, {"name": "Ivy"}))
    hers, his = ada.record("doe", doe, {"name": "limps"}), ben.record("doe", doe, {"name": "sound"})
    record(ben, his)
    record(ada, hers)
    stamp = dict(Event.objects.filter(id__in=[hers["id"], his["id"]]).values_list("id", "hlc"))
    assert stamp[his["id"]] < stamp[hers["id"]]
