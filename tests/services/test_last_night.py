"""Last night's list beside the whole log: a new phone is sent the same by either."""

from __future__ import annotations

import random
from typing import Any

import pytest
from django.db.models import F

from herd.models import Event, Farm, ShortList
from herd.services import bootstrap
from herd.services.bootstrap import shorten, snapshot
from herd.services.clock import now_ms
from herd.services.nightly import shorten_lists
from herd.services.rebuild import rebuild
from herd.services.short_list import in_force
from herd.state.fold import View, fold
from tests.helping import helped
from tests.logs import record
from tests.phones import Phone, new_id
from tests.services.test_bootstrap import DAY_MS, FILL, Past, something, trimmed


@pytest.fixture
def past(ada: Phone) -> Past:
    return Past(ada)


def folded(rows: list[Any], phone: Phone) -> View:
    """What is asked about a ration is trimmed too: steps that ended long ago decide nothing."""
    view = trimmed(fold([one.event for one in rows]), phone)
    for asked in view["questions"]:
        for one in asked["values"] if asked["kind"] == "ration" else ():
            one["value"] = in_force(one["value"], bootstrap.cutoff_of(phone.farm))
    return view


def as_is(phone: Phone) -> Farm:
    return Farm.objects.get(pk=phone.farm.pk)


def both(phone: Phone) -> tuple[list[Any], list[Any]]:
    """What is sent by the short cut where it holds, and by the whole log."""
    short = bootstrap.last_night(as_is(phone))
    cut = bootstrap._snapshot(as_is(phone), short) if short else None
    whole = bootstrap._whole(as_is(phone))
    return whole if cut is None else cut, [] if cut is None else whole


@pytest.mark.parametrize("seed", range(4))
def test_a_generated_history_is_sent_alike(ada: Phone, past: Past, seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    dice, today = random.Random(seed), now_ms()
    does = [new_id() for _ in range(3)]
    written: list[dict[str, Any]] = [past.write(160, "doe", doe, {"name": "A", "size": "mini"}) for doe in does]
    held = 0
    for n, days_ago in enumerate(sorted((dice.randrange(150) for _ in range(90)), reverse=True)):
        monkeypatch.setattr(bootstrap, "now_ms", lambda at=today - days_ago * DAY_MS: at)
        written.append(something(dice, past, days_ago, dice.choice(does), written))
        if n % 9 == 0:
            shorten(ada.farm.pk)
        if n % 3 == 0:
            continue
        cut, whole = both(ada)
        held += bool(whole)
        # The whole log may keep a ration for company that was done without last night; both fold alike.
        assert {one.seq for one in cut} <= {one.seq for one in whole or cut}
        assert folded(cut, ada) == folded(whole or cut, ada)
    assert held > 20, "most days nothing reaches back"


def lasting_read(phone: Phone) -> int:
    short = bootstrap.last_night(as_is(phone))
    assert short
    log = Event.objects.filter(farm=phone.farm, kind__in=bootstrap.LASTING)
    return log.filter(short.lasting()).count()


def test_what_was_left_out_is_not_read_again(ada: Phone, past: Past) -> None:
    doe = new_id()
    base = past.write(300, "doe", doe, {"name": "Ivy"})["hlc"]
    for ago in range(200, 100, -1):
        base = past.write(ago, "doe", doe, {"tag": str(ago)}, base)["hlc"]
    shorten_lists(now_ms())
    past.write(1, "doe", doe, {"tag": "7"}, base)
    assert lasting_read(ada) <= 4
    cut, whole = both(ada)
    assert cut == whole


def test_an_entry_from_long_ago_and_one_about_a_record_go_by_the_whole_log(ada: Phone, past: Past) -> None:
    doe = new_id()
    first = past.write(300, "doe", doe, {"name": "Ivy"})
    second = past.write(200, "doe", doe, {"tag": "3"}, first["hlc"])
    past.write(190, "doe", doe, {"tag": "4"}, second["hlc"])
    look = past(30, "udder", doe, FILL)
    shorten(ada.farm.pk)
    past(1, "void", doe, {"of": look["id"]})
    assert both(ada)[1], "a look taken back needs nothing that was left out"
    late = past(150, "dried_off", doe, {})
    assert bootstrap.last_night(as_is(ada)) is None
    shorten(ada.farm.pk)
    past(0, "void", doe, {"of": late["id"]})
    assert both(ada)[1] == []


def test_one_that_waited_and_counts_now_goes_by_the_whole_log(ada: Phone, past: Past) -> None:
    doe = new_id()
    past(40, "moved", doe, {"pen": ""})
    shorten(ada.farm.pk)
    assert bootstrap.last_night(as_is(ada))
    past.write(1, "doe", doe, {"name": "Moss"})
    assert bootstrap.last_night(as_is(ada)) is None
    assert snapshot(as_is(ada)) == bootstrap._whole(as_is(ada))


def test_another_history_and_a_rebuild_go_by_the_whole_log(ada: Phone, past: Past) -> None:
    past.write(30, "doe", new_id(), {"name": "Ivy"})
    shorten(ada.farm.pk)
    Farm.objects.update(epoch=F("epoch") + 1)
    assert bootstrap.last_night(as_is(ada)) is None
    shorten(ada.farm.pk)
    rebuild(ada.farm.pk)
    assert not ShortList.objects.filter(farm=ada.farm).exists()


def test_a_night_without_anything_new_makes_no_new_list(ada: Phone, past: Past) -> None:
    past.write(30, "doe", new_id(), {"name": "Ivy"})
    shorten_lists(now_ms())
    ShortList.objects.filter(farm=ada.farm).update(since="kept")
    shorten_lists(now_ms())
    assert ShortList.objects.get(farm=ada.farm).since == "kept"
    past.write(20, "doe", new_id(), {"name": "Moss"})
    shorten_lists(now_ms())
    assert ShortList.objects.get(farm=ada.farm).since != "kept"


def test_what_was_refused_since_leaves_it_as_it_is(ada: Phone, cleo: Phone, past: Past) -> None:
    """A raise a helper may not make tells nothing about what was put down before."""
    doe = new_id()
    past.write(90, "doe", doe, {"name": "Ivy"})
    shorten(ada.farm.pk)
    steps = [{"on": cleo.event("dried_off", doe, {})["on"], "g": 900}]
    raised = cleo.event("ration", doe, {"to": "doe", "slot": "morning", "feed": "oats", "steps": steps, "base": ""})
    assert helped(cleo, raised)[0]["st"] == "rejected"
    cut, whole = both(ada)
    assert whole, "the short cut holds"
    assert cut == whole


def test_one_put_down_that_was_refused_later_goes_by_the_whole_log(ada: Phone, cleo: Phone, past: Past) -> None:
    """The owner's lower word, written before it and come after, takes the helper's leave away."""
    doe = new_id()
    past.write(90, "doe", doe, {"name": "Ivy"})
    on = cleo.event("dried_off", doe, {})["on"]
    plan = {"to": "doe", "slot": "morning", "feed": "oats", "base": ""}
    record(ada, ada.event("ration", doe, {**plan, "steps": [{"on": on, "g": 300}]}))
    lower = ada.event("ration", doe, {**plan, "steps": [{"on": on, "g": 100}]})
    hers = cleo.event("ration", doe, {**plan, "steps": [{"on": on, "g": 200}]})
    assert helped(cleo, hers)[0]["st"] == "ok"
    shorten(ada.farm.pk)
    record(ada, lower)
    assert Event.objects.get(id=hers["id"]).fold_status == "refused"
    assert both(ada)[1] == []
    assert snapshot(as_is(ada)) == bootstrap._whole(as_is(ada))
