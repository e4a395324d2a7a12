"""A cursor the log does not reach: a new epoch for whoever shows that it was ours, and for nobody else."""

from __future__ import annotations

from typing import Any

import pytest

from herd.models import Audit, Event, Farm
from herd.services.epoch import NEW_EPOCH
from tests.people import People
from tests.phones import Phone, new_id

pytestmark = pytest.mark.django_db(transaction=True)


def held(phone: Phone) -> dict[str, Any]:
    """A cursor as it was handed out, after two entries."""
    phone.push(phone.record("doe", new_id(), {"name": "Ivy"}), phone.record("doe", new_id(), {"name": "Elm"}))
    page = phone.get("changes", seq=0).json()
    return {name: page[name] for name in ("seq", "outlook_rev", "signed")}


def lose_all(farm: Farm) -> None:
    """An old database put back by hand: nobody said that its epoch is another one."""
    Event.objects.filter(farm=farm).delete()
    Farm.objects.filter(pk=farm.pk).update(seq=0)


def epochs(farm: Farm) -> int:
    return Audit.objects.filter(farm=farm, what=NEW_EPOCH).count()


def test_every_page_carries_a_mark_of_its_own(ada: Phone) -> None:
    first = ada.get("bootstrap").json()["signed"]
    cursor = held(ada)
    assert cursor["signed"] not in ("", first)
    pushed = ada.push_raw(ada.body([], cursor=cursor)).json()["changes"]["signed"]
    assert (pushed, ada.get("bootstrap").json()["signed"]) == (cursor["signed"], cursor["signed"])
    assert len(first) == 16


@pytest.mark.parametrize("by_get", [True, False])
def test_a_phone_ahead_of_the_log_starts_a_new_epoch_once(ada: Phone, ben: Phone, by_get: bool) -> None:
    cursor = held(ada)
    lose_all(ada.farm)

    def tell(phone: Phone) -> Any:
        told = phone.get("changes", **cursor, epoch=phone.epoch) if by_get else None
        return told or phone.push_raw(phone.body([], cursor=cursor))

    answers = [tell(phone) for phone in (ada, ben, ada)]
    assert [answer.status_code for answer in answers] == [409] * 3
    ada.farm.refresh_from_db()
    assert {answer.json()["epoch"] for answer in answers} == {ada.farm.epoch}
    assert (ada.farm.epoch > 1, epochs(ada.farm)) == (True, 1)


@pytest.mark.parametrize(
    "signed", ["", "AAAAAAAAAAAAAAAA", "é\U0001f410", "x" * 5000, None], ids=["none", "guessed", "odd", "long", "other"]
)
def test_a_cursor_nobody_handed_out_changes_nothing(ada: Phone, people: People, signed: str | None) -> None:
    """That of another farm proves nothing here either."""
    if signed is None:
        signed = held(Phone(people.dovs_farm, people.dov).sign_in())["signed"]
    cursor = {"seq": 2, "outlook_rev": 0, "signed": signed}
    asked = ada.get("changes", **cursor, epoch=1)
    said = ada.push_raw(ada.body([ada.record("doe", new_id(), {"name": "Ivy"})], cursor=cursor))
    for answer in (asked, said):
        assert (answer.status_code, answer.json()["code"], answer.json()["epoch"]) == (409, "epoch", 1)
    assert (epochs(people.farm), Event.objects.filter(farm=people.farm).exists()) == (0, False)


def test_an_old_mark_under_a_new_key_changes_nothing_and_under_a_kept_one_still_does(ada: Phone, settings: Any) -> None:
    cursor, old = held(ada), settings.SECRET_KEY
    lose_all(ada.farm)
    # Keys sign the sessions, too: the phone signs in again.
    settings.SECRET_KEY = "another key altogether, of the machine the copy was brought to"
    ada.sign_in()
    assert ada.get("changes", **cursor, epoch=1).status_code == 409
    assert epochs(ada.farm) == 0
    settings.SECRET_KEY_FALLBACKS = [old]
    assert ada.get("changes", **cursor, epoch=1).json()["epoch"] > 1
    assert epochs(ada.farm) == 1


def test_only_asking_starts_few_epochs_a_day(ada: Phone) -> None:
    for _ in range(5):
        ada.farm.refresh_from_db()
        ada.epoch = ada.farm.epoch
        cursor = held(ada)
        lose_all(ada.farm)
        assert ada.get("changes", **cursor, epoch=ada.epoch).status_code == 409
    assert epochs(ada.farm) == 3
    ada.push_raw(ada.body([], cursor=cursor))
    assert epochs(ada.farm) == 4


def test_a_phone_from_before_asks_and_sends_as_ever(ada: Phone) -> None:
    cursor = held(ada)
    del cursor["signed"]
    assert ada.get("changes", **cursor).status_code == 200
    assert ada.push_raw(ada.body([], cursor=cursor)).status_code == 200
