from typing import Any

import pytest
from django.core.cache import cache, caches

from tests.security.world import World, make_world


@pytest.fixture
def world(db: None, settings: Any) -> World:
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
    settings.SIGN_UP = "open"
    cache.clear()
    caches["worker"].clear()
    return make_world()
