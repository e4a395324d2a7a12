"""Whatever comes, in whatever order and portions: what each push left behind is what the whole log folds to.

MANGERLINE_REBUILD_SEEDS=1000 tries more of them.
"""

from __future__ import annotations

from typing import Any

import pytest

from herd.models import Event, Farm, Folded, Ruling
from herd.models.farm import HELPER, OWNER
from herd.services import further
from herd.services.rebuild import rebuild
from herd.services.refold import rebuild as refold_all
from tests.people import People
from tests.services.test_role_fuzz import ENTRIES, Barn
from tests.support.thorough import times

SEEDS = times("MANGERLINE_REBUILD_SEEDS", 16, 200)
QUICK = 4
# So few that most of what is seen falls off the edge within one log.
MOST = {"milk": 4, "score": 3, "weight": 2}


class Watched(Barn):
    """Half of it scores, weights and milkings, taken back and put right as often as anything else."""

    def say(self) -> None:
        dice, doe = self.dice, self.dice.choice(self.does)
        if dice.random() < 0.5:
            super().say()
            return
        seen: dict[str, Any] = {
            "score": {"x100": 25 * dice.randrange(4, 20)},
            "weight": {"g": dice.randrange(20_000, 60_000), "how": "scale", "girth_mm": 0, "length_mm": 0},
            "milk": {"g": dice.randrange(100, 2_000), "fat_x100": 0},
        }
        kind = dice.choice(tuple(seen))
        self.add(dice.choice((OWNER, HELPER)), kind, doe, seen[kind])


def kept(farm: Farm) -> dict[str, Any]:
    rows = Folded.objects.filter(farm=farm).values_list("subject", "kind", "json", "tail")
    status = Event.objects.filter(farm=farm).values_list("id", "fold_status", "waits_for", "form")
    rulings = Ruling.objects.filter(farm=farm).exclude(code="").values_list("seq", "code")
    return {"folded": sorted(rows), "status": sorted(status), "rulings": sorted(rulings)}


@pytest.mark.parametrize(
    "seed", [*range(QUICK), *(pytest.param(n, marks=pytest.mark.slow) for n in range(QUICK, SEEDS))]
)
def test_what_each_push_left_is_what_the_whole_log_folds_to(people: People, seed: int, monkeypatch: Any) -> None:
    monkeypatch.setattr("herd.services.rebuild.recompile", lambda farm_id: 0)
    for kind, most in MOST.items():
        monkeypatch.setitem(further.MOST, kind, most)
    barn = Watched(people, seed)
    for order in (barn.events, barn.dice.sample(barn.events, len(barn.events))):
        farm = barn.arrive(people, order)
        live = kept(farm)
        assert len(live["status"]) > ENTRIES // 3
        rebuild(farm.id)
        assert kept(farm) == live


def test_the_short_way_is_taken(people: People, monkeypatch: Any) -> None:
    """Else the above would show nothing of it."""
    monkeypatch.setattr("herd.services.rebuild.recompile", lambda farm_id: 0)
    taken = []
    real = further.further

    def counted(farm_id: str, seen: Any) -> Any:
        found = real(farm_id, seen)
        taken.append((len(found.rows), len(found.moved), len(found.left)))
        return found

    monkeypatch.setattr("herd.services.refold.further", counted)
    barn = Watched(people, 1)
    barn.arrive(people, barn.events)
    rows, moved, left = (sum(column) for column in zip(*taken, strict=True))
    assert rows >= moved > 5
    assert left > 0


def test_a_planted_fault_is_seen(people: People, monkeypatch: Any) -> None:
    """A row put at the end instead of in its place."""
    monkeypatch.setattr("herd.services.rebuild.recompile", lambda farm_id: 0)
    monkeypatch.setattr("herd.services.further.bisect_left", lambda marks, wanted, **more: len(marks))
    found = []
    for seed in range(4):
        barn = Watched(people, seed)
        farm = barn.arrive(people, barn.dice.sample(barn.events, len(barn.events)))
        live = kept(farm)
        refold_all(farm)
        found.append(kept(farm) == live)
    assert not all(found)
