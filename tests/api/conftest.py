import pytest
from django.core.cache import cache

from tests.people import People, make_people
from tests.phones import Phone


@pytest.fixture
def people(db: None) -> People:
    cache.clear()
    return make_people()


@pytest.fixture
def ada(people: People) -> Phone:
    return Phone(people.farm, people.ada).sign_in()


@pytest.fixture
def ben(people: People) -> Phone:
    return Phone(people.farm, people.ben).sign_in()
