from __future__ import annotations

import json

from herd.models import Event
from tests.phones import Phone, new_id, states


def test_a_batch_is_answered_event_by_event_and_stored_byte_for_byte(ada: Phone) -> None:
    doe = new_id()
    raw = json.dumps(ada.record("doe", doe, {"name": "Mósa 🐐"}), ensure_ascii=False, indent=1)
    body = json.dumps(ada.body([])).replace('"events": []', f'"events": [ {raw} , {json.dumps(ada.event("udder", doe, {"fill": 2, "uneven": False}))}]')
    answer = ada.push_raw(body.encode())
    assert states(answer.json()["answers"]) == ["ok", "ok"]
    assert [one["seq"] for one in answer.json()["answers"]] == [1, 2]
    assert Event.objects.get(seq=1).raw == raw
    page = answer.json()["changes"]
    assert (page["seq"], page["more"], [one["seq"] for one in page["events"]]) == (2, False, [1, 2])
