"""Sign-in is slow on purpose; tests that are not about it use a quick hash."""

import pytest
from pytest_django.fixtures import SettingsWrapper


@pytest.fixture(autouse=True)
def quick_hashes(settings: SettingsWrapper) -> None:
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
