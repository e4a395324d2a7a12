"""A picture to know her by and a spoken note: made without a signal, sent after the words, seen on the other phone."""

from __future__ import annotations

import base64
import hashlib
import sqlite3
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from herd.services.media_formats import BadMedia, media_of
from tests.browser.barn import Barn
from tests.browser.places import subject, visit
from tests.browser.screen import Screen
from tests.support.media import part
from tests.support.words import like, say

pytestmark = [pytest.mark.browser, pytest.mark.timeout(180)]
GPS = part(0xE1, b"Exif\0\0MM\0*\0\0\0\x08\0\1\x88\x25\0\4\0\0\0\1\0\0\0\x1a" + b"\0" * 12)
# A camera's picture is large and grainy: one that is too easy to pack would prove nothing.
CAMERA = """async () => {
  const canvas = Object.assign(document.createElement("canvas"), { width: 3000, height: 2000 });
  const pen = canvas.getContext("2d");
  for (let n = 0; n < 6000; n++) {
    pen.fillStyle = `hsl(${n % 360} 60% ${20 + (n % 60)}%)`;
    pen.fillRect((n * 7919) % 3000, (n * 104729) % 2000, 90, 70);
  }
  const blob = await new Promise((done) => canvas.toBlob(done, "image/jpeg", 0.95));
  const bytes = new Uint8Array(await blob.arrayBuffer());
  return btoa(Array.from(bytes, (byte) => String.fromCharCode(byte)).join(""));
}"""


@pytest.fixture
def camera_picture(phone: Screen, tmp_path: Path) -> Path:
    """As a phone's camera writes it: large, and with the place in it."""
    plain = base64.b64decode(phone.page.evaluate(CAMERA))
    path = tmp_path / "camera.jpg"
    path.write_bytes(plain[:2] + GPS + plain[2:])
    with pytest.raises(BadMedia):
        media_of(path.read_bytes())
    return path


def kept(barn: Barn) -> dict[str, bytes]:
    with sqlite3.connect(barn.server.folder / "mangerline.sqlite3") as log:
        return dict(log.execute("SELECT sha256, content FROM herd_blob"))


def take(page: Page, label: str, path: Path) -> None:
    with page.expect_file_chooser() as chosen:
        page.get_by_text(say(label), exact=True).click()
    chosen.value.set_files(path)


def test_a_picture_taken_without_a_signal_is_on_every_phone_afterwards(
    barn: Barn, phone: Screen, another: Callable[..., Screen], camera_picture: Path
) -> None:
    doe = subject(barn, "doe", "Teasel")
    visit(phone, f"doe/{doe}/pictures")
    barn.server.stop()
    take(phone.page, "pictures.her", camera_picture)
    shown = phone.page.get_by_role("img", name="Teasel")
    expect(shown).to_be_visible()
    assert shown.evaluate("(img) => img.naturalWidth") == 1200
    phone.page.reload()
    expect(shown).to_be_visible(timeout=20_000)
    visit(phone, "pending")
    expect(phone.heading(like("pending.pictures", n=1))).to_be_visible()
    barn.server.start()
    phone.send_now()
    phone.all_sent()
    [(sha, content)] = kept(barn).items()
    assert hashlib.sha256(content).hexdigest() == sha
    assert media_of(content) == "image/jpeg", "nothing of the place is left in it"
    assert len(content) <= 240_000
    other = another("Mirrin")
    face = other.row("Teasel").locator("img.face")
    expect(face).to_be_visible(timeout=20_000)
    visit(other, f"doe/{doe}/pictures")
    theirs = other.page.get_by_role("img", name="Teasel")
    expect(theirs).to_be_visible(timeout=20_000)
    box = other.page.get_by_text(say("pictures.her"), exact=True).bounding_box()
    assert box
    assert box["height"] >= 60
    other.controlled()
    barn.server.stop()
    other.page.reload()
    expect(theirs).to_be_visible(timeout=20_000)
    barn.server.start()


HAY = "Meadow hay, July"


def test_a_hay_report_is_photographed_beside_the_form_and_stays_with_the_lot(
    barn: Barn, phone: Screen, another: Callable[..., Screen], camera_picture: Path
) -> None:
    """No other app is needed to share it from. It is on this phone alone until what it says is saved."""
    lot, before = subject(barn, "lot", HAY), kept(barn)
    visit(phone, f"farm/lots/{lot}/lab")
    take(phone.page, "photo.take", camera_picture)
    beside = phone.page.get_by_role("img", name=say("lab.picture.alt"))
    expect(beside).to_be_visible()
    assert beside.evaluate("(img) => img.naturalWidth") == 1800
    phone.page.reload()
    expect(beside).to_be_visible(timeout=20_000)
    for line, figure in {"received-dm": "88.5", "dry-cp": "9.8", "dry-tdn": "52"}.items():
        phone.page.locator(f"#lab-{line}").fill(figure)
    phone.button(say("lab.go")).click()
    phone.button(say("lab.save")).click()
    of_the_lot = {"name": say("picture.report.alt", name=HAY)}
    expect(phone.page.get_by_role("img", **of_the_lot)).to_be_visible()
    phone.send_now()
    phone.all_sent()
    [content] = (content for sha, content in kept(barn).items() if sha not in before)
    assert media_of(content) == "image/jpeg"
    other = another("Mirrin")
    visit(other, f"farm/lots/{lot}")
    expect(other.page.get_by_role("img", **of_the_lot)).to_be_visible(timeout=20_000)
    visit(other, f"farm/lots/{lot}/lab")
    expect(other.page.get_by_role("img", **of_the_lot)).to_be_visible(timeout=20_000)


def test_half_a_minute_is_said_and_heard_on_the_other_phone(
    barn: Barn, phone: Screen, another: Callable[..., Screen]
) -> None:
    doe = subject(barn, "doe", "Sedge")
    phone.page.context.grant_permissions(["microphone"])
    visit(phone, f"doe/{doe}/pictures")
    phone.button(say("say.start")).click()
    stop = phone.button(like("say.stop"))
    expect(stop).to_be_visible()
    phone.page.wait_for_timeout(1_500)
    stop.click()
    expect(phone.button(like("say.play"))).to_be_visible(timeout=20_000)
    phone.send_now()
    phone.all_sent()
    said = [content for content in kept(barn).values() if content.startswith(b"RIFF")]
    assert [media_of(content) for content in said] == ["audio/wav"]
    # The test machine's microphone beeps: there is more in it than silence.
    assert len(set(said[0][58:])) > 20
    other = another("Mirrin")
    visit(other, f"doe/{doe}/pictures")
    other.button(like("say.play")).click(timeout=20_000)
    sound = other.page.locator("audio")
    other.page.wait_for_function("() => document.querySelector('audio')?.duration > 1")
    assert 1 < sound.evaluate("(audio) => audio.duration") < 6


def test_what_is_no_picture_is_not_laid_on_the_room_of_the_phone(barn: Barn, phone: Screen) -> None:
    visit(phone, f"doe/{subject(barn, 'doe', 'Sedge')}/pictures")
    broken = {"name": "half.jpg", "mimeType": "image/jpeg", "buffer": b"milk, bread, twine"}
    phone.page.get_by_label(say("pictures.udder")).set_input_files([broken])
    expect(phone.page.get_by_role("alert")).to_have_text(say("photo.unreadable"))


def test_a_phone_without_a_microphone_says_what_to_do(barn: Barn, phone: Screen) -> None:
    phone.page.context.clear_permissions()
    phone.page.evaluate(
        "() => (navigator.mediaDevices.getUserMedia = () => Promise.reject(new DOMException('no', 'NotAllowedError')))"
    )
    doe = subject(barn, "doe", "Sedge")
    phone.page.evaluate(f"() => (location.hash = '#/doe/{doe}/pictures')")
    phone.button(say("say.start")).click()
    expect(phone.page.get_by_role("alert")).to_have_text(say("say.no_microphone"))
