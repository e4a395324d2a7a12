"""A real server killed at a random moment of a push: after the repeat every entry is there once."""

from __future__ import annotations

import json
import random
import threading
import time
from collections.abc import Callable

import pytest

from tests.support.live import Server
from tests.support.raw_phone import BATCH, MAKE, Wire, a_batch, answered, logged, lost_answer
from tests.support.thorough import times

KILLS = times("MANGERLINE_POWER_CUTS", 3, 100)


@pytest.mark.slow
@pytest.mark.timeout(150 + 10 * KILLS)
def test_killed_between_commit_and_answer_nothing_is_lost_or_doubled(server: Server) -> None:
    farm_id, ada_id = server.manage("shell", "--no-imports", "-c", MAKE).split()[-2:]
    dice, sent = random.Random(7), set[str]()
    wire = Wire(server)
    wire.sign_in("Ada", "wet gloves at dawn")
    states, doe = list[str](), ""
    for turn in range(KILLS):
        body, ids = a_batch(farm_id, ada_id, doe if turn > 1 else "")
        sent |= ids
        doe = doe or json.loads(body)["events"][0]["subject"]
        when = (lambda: dice.uniform(0.0, 0.1)) if turn % 2 else None
        cut = threading.Thread(target=power_cut, args=(server, when, len(sent)))
        cut.start()
        lost_answer(wire, farm_id, body)
        cut.join()
        server.start()
        states += [one["st"] for one in answered(wire, farm_id, body)]
    rows = logged(server)
    assert [seq for seq, _ in rows] == list(range(1, len(sent) + 1))
    assert {event_id for _, event_id in rows} == sent
    assert set(states) <= {"ok", "dup"}
    assert states.count("dup") >= BATCH, "no kill fell between commit and answer"


def power_cut(server: Server, when: Callable[[], float] | None, expected: int) -> None:
    """After a while, or else as soon as the batch is committed: outlooks are still being made, no answer is out."""
    until = time.monotonic() + (when() if when else 20)
    while time.monotonic() < until and (when or len(logged(server)) < expected):
        time.sleep(0.002)
    server.kill()
