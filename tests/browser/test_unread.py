"""What nobody can read stops no screen, and is named where what waits is told."""

from __future__ import annotations

import json
import uuid
from collections.abc import Callable
from typing import Any

import pytest
from playwright.sync_api import expect

from tests.browser.barn import Barn
from tests.browser.screen import Screen
from tests.support.words import say

pytestmark = pytest.mark.browser
DOE = "Yarrow"


def straight_in(barn: Barn, kind: str, v: int, data: Any) -> None:
    """Into the log past every judge, beside Yarrow's own entries."""
    like = next(event for event in barn.log() if event["kind"] == "doe" and event["data"]["f"].get("name") == DOE)
    event = {**like, "id": str(uuid.uuid4()), "kind": kind, "v": v, "data": data}
    raw = json.dumps(event).replace("'", "''")
    barn.ask("UPDATE herd_farm SET seq = seq + 1 WHERE id = (SELECT farm_id FROM herd_event LIMIT 1)")
    columns = "farm_id, subject, 'on', happened_ms, hlc, eff, author, device, role, received_ms".replace("'", '"')
    barn.ask(
        f"INSERT INTO herd_event ({columns}, seq, id, kind, v, form, raw, sha256, fold_status, waits_for) "
        f"SELECT {columns}, (SELECT seq FROM herd_farm WHERE id = farm_id), '{event['id']}', '{kind}', {v}, '{kind}', "
        f"'{raw}', '', 'ok', '' FROM herd_event WHERE id = '{like['id']}'"
    )


def test_entries_nobody_can_read_are_named_and_the_farm_stands(
    barn: Barn, phone: Screen, another: Callable[[str, str], Screen]
) -> None:
    straight_in(barn, "score", 1, None)
    straight_in(barn, "void", 1, [])
    straight_in(barn, "left_herd", 9, {"why": "sold"})
    phone.send_now()
    for screen in (phone, another("Jory", "")):
        screen.open("pending")
        expect(screen.heading(say("unread", n=2))).to_be_visible()
        expect(screen.page.get_by_text(say("rec.score"), exact=True)).to_be_visible()
        expect(screen.page.get_by_text(say("unread.newer", n=1))).to_be_visible()
        screen.doe(DOE)
        expect(screen.page.get_by_text(DOE).first).to_be_visible()
        screen.udder(DOE, 3)
        screen.saved()
