from typing import Any

import pytest


@pytest.fixture(autouse=True)
def quick_hashes(settings: Any) -> None:
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
