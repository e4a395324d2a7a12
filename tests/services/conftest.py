from typing import Any

import pytest

from tests.people import People, make_people
from tests.phones import Phone


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
