"""Who is meant by a name somebody typed at a door, and what is written down of a try."""

from __future__ import annotations

import pytest

from api.account import doors
from herd.models import Audit, Tries
from herd.services.recovery import new_recovery_code
from tests.api.test_accounts import AUTH, NEW, says
from tests.people import PASSWORD, People
from tests.phones import Phone


@pytest.fixture
def nobody(people: People) -> Phone:
    return Phone(people.farm, people.ada)


@pytest.mark.parametrize("shown", ["Ada\u200b", "\u2060ada", "A\u00adda", "Ada\u2800"], ids=ascii)
def test_who_types_what_shows_nothing_is_known_and_counted_by_the_name_that_shows(nobody: Phone, shown: str) -> None:
    wrong = {"password": "not hers"}
    nobody.send("/api/session", {"name": shown, **wrong})
    nobody.send(f"{AUTH}/auth/login", {"username": shown, **wrong})
    nobody.send("/api/recovery", {**NEW, "name": shown, "code": "A" * 24})
    counted = dict(Tries.objects.values_list("key", "count"))
    assert (counted[doors.ACCOUNT.key("ada")], counted[doors.RECOVERY.key("ada")]) == (2, 1)
    assert says(nobody.send(f"{AUTH}/auth/login", {"username": shown, "password": PASSWORD}))[0] == 200


def test_a_recovery_code_that_is_not_hers_is_in_the_audit(nobody: Phone, people: People) -> None:
    new_recovery_code(people.ada)
    for name in ("Ada", "Nobody of that name"):
        answer = nobody.send("/api/recovery", {**NEW, "name": name, "code": "ACDE-FGHJ-KMNP-QRTW-XY34"})
        assert says(answer) == (400, "wrong_code")
    row = Audit.objects.get(what="recovery_failed")
    assert (row.person, row.farm_id, "ACDE" in row.detail) == (people.ada.pk, people.farm.pk, False)
