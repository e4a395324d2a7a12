from typing import Any

import pytest

from tests.logs import record
from tests.people import People, make_people
from tests.phones import Phone, new_id


@pytest.fixture(autouse=True)
def quick_hashes(settings: Any) -> None:
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]


@pytest.fixture
def people(db: None, quick_hashes: None) -> People:
    return make_people()


@pytest.fixture
def ada(people: People) -> Phone:
    return Phone(people.farm, people.ada)


@pytest.fixture
def ben(people: People) -> Phone:
    return Phone(people.farm, people.ben)


@pytest.fixture
def cleo(people: People) -> Phone:
    return Phone(people.farm, people.cleo)


@pytest.fixture
def doe(ada: Phone) -> str:
    made = new_id()
    record(ada, ada.record("doe", made, {"name": "Ivy", "order": 1}))
    return made
