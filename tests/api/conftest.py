import pytest
from django.core.cache import cache

from tests.people import People, make_people
from tests.phones import Phone
from tests.quick import quick_hashes

__all__ = ["quick_hashes"]


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
