from pathlib import Path
from typing import Any

import pytest
from django.core.cache import cache

from herd.models import Blob
from herd.services.leaving.pack import export
from tests.people import People, make_people
from tests.phones import Phone, new_id
from tests.support.media import jpeg, mark


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


@pytest.fixture
def packed(people: People, ada: Phone, tmp_path: Path) -> bytes:
    """A doe with a score, a picture of her, something parked and something refused."""
    doe, picture = new_id(), jpeg(grain=b"Ivy" * 20_000)
    shown = {"what": "her", "sha256": mark(picture), "bytes": len(picture), "w": 640, "h": 480}
    ada.push(ada.record("doe", doe, {"name": "Ivy"}), ada.event("score", doe, {"x100": 325}))
    ada.push(ada.event("picture", doe, shown), ada.event("newer_kind", doe, {"any": [1]}))
    kept = {"media": "image/jpeg", "size": len(picture), "sender": people.ada.pk, "received_ms": 1}
    Blob.objects.create(farm=people.farm, sha256=mark(picture), content=picture, **kept)
    export(people.farm, tmp_path / "farm.zip")
    return (tmp_path / "farm.zip").read_bytes()
