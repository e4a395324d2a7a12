"""Where a notice may go, and the words it goes with."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from herd.doctor import machine
from herd.doctor.finding import BAD, FINE
from herd.services.telling import post
from herd.services.telling.kinds import LANGUAGES, words
from herd.services.telling.vapid import public_key
from tests.support.push_phone import Browser


@pytest.mark.parametrize(
    "endpoint",
    [
        "http://push.example.net/a", "https://127.0.0.1/a", "https://10.0.0.3/a", "https://[::1]/a",
        "https://169.254.169.254/latest", "https://localhost/a", "https://[::ffff:10.0.0.1]/a", "https://push:99999/a",
        "https://a:b@push.example.net/a", "https://push.example.net:8443/a", "file:///etc/passwd", "",
    ],
)  # fmt: skip
def test_nothing_goes_to_an_address_inside_the_house(settings: Any, endpoint: str) -> None:
    settings.PUSH_TO_OURSELVES = False
    letter = post.Letter(endpoint, *list(Browser().says(endpoint).values())[1:], b"{}", "t", False, 60)
    assert post.post(letter).status == post.CLOSED


def test_a_name_that_leads_inside_the_house_is_refused(settings: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    settings.PUSH_TO_OURSELVES = False
    inside = [(2, 1, 6, "", ("93.184.216.34", 443)), (2, 1, 6, "", ("192.168.1.4", 443))]
    monkeypatch.setattr(post, "getaddrinfo", lambda *_, **__: inside)
    with pytest.raises(post.NotPublic):
        post.public_address("push.example.net", 443)


def test_each_code_has_words_in_each_language() -> None:
    for code, row in words().items():
        assert set(LANGUAGES) <= set(row), code
        for text in row.values():
            assert "!" not in text
            assert len(text) <= 70


def test_the_key_is_made_once_and_only_the_server_reads_it(tmp_path: Path) -> None:
    path = tmp_path / "vapid_key"
    assert public_key(path) == public_key(path)
    assert path.stat().st_mode & 0o777 == 0o600


def test_the_doctor_sees_a_spoilt_key(tmp_path: Path, settings: Any) -> None:
    settings.VAPID_KEY_FILE = tmp_path / "vapid_key"
    assert [one.level for one in machine.notices()] == [FINE]
    public_key(settings.VAPID_KEY_FILE)
    assert [one.level for one in machine.notices()] == [FINE]
    settings.VAPID_KEY_FILE.write_text("not a key")
    [found] = machine.notices()
    assert found.level == BAD
