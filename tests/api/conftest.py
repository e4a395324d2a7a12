from typing import Any

import pytest
from django.core.cache import cache

from tests.people import People, make_people
from tests.phones import Phone


@pytest.fixture(autouse=True)
def quick_hashes(settings: Any) -> None:
    """Signing in is slow on purpose, and not what most of these tests are about."""
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]


@pytest.fixture
def people(db: None, quick_hashes: None) -> People:
    cache.clear()
    return make_people()


@pytest.fixture
def ada(people: People) -> Phone:
    return Phone(people.farm, people.ada).sign_in()


@pytest.fixture
def ben(people: People) -> Phone:
    return Phone(people.farm, people.ben).sign_in()
