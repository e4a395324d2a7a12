"""Folded rows made again from the log. One path for a late event, a rebuild and an upgrade: nothing is patched."""

from __future__ import annotations

from dataclasses import dataclass, field

from django.db.models import QuerySet, Window
from django.db.models.functions import RowNumber

from herd.models import Event, Farm, Folded
from herd.models.event import OK
from herd.state.fold import fold
from herd.state.kinds import SHAPES_OUTLOOK

from .wire import canonical, replay

PLACES = {"does": "doe", "pens": "pen", "feeds": "feed", "lots": "lot", "scoops": "scoop"}
# A pen says where does stand; no outlook is made from it.
FEEDS_OUTLOOK = ("doe", "feed", "lot", "rules")
MOST_MILKS = 120
Key = tuple[str, str]


@dataclass(slots=True)
class Refolded:
    changed: set[Key] = field(default_factory=set)
    appeared: set[str] = field(default_factory=set)
    vanished: set[str] = field(default_factory=set)

    def add(self, other: Refolded) -> None:
        self.changed |= other.changed
        self.appeared |= other.appeared
        self.vanished |= other.vanished

    @property
    def outlooks_due(self) -> bool:
        return any(kind in FEEDS_OUTLOOK for _, kind in self.changed)


def refold(farm_id: str, subjects: set[str]) -> Refolded:
    """Fold these subjects again and store what differs. The farm row must be locked."""
    if not subjects:
        return Refolded()
    before = {
        (subject, kind): json
        for subject, kind, json in Folded.objects.filter(farm_id=farm_id, subject__in=subjects).values_list(
            "subject", "kind", "json"
        )
    }
    after = folded_now(farm_id, subjects)
    changed = {key for key, json in after.items() if before.get(key) != json}
    gone = before.keys() - after.keys()
    _store(farm_id, {key: after[key] for key in changed}, gone)
    return Refolded(
        changed=changed | gone,
        appeared={subject for subject, _ in after.keys() - before.keys()},
        vanished={subject for subject, _ in gone},
    )


def folded_now(farm_id: str, subjects: set[str]) -> dict[Key, str]:
    """What the log says about these subjects: {(subject, kind): canonical JSON}."""
    rows = Event.objects.filter(farm_id=farm_id, subject__in=subjects, form__in=SHAPES_OUTLOOK, fold_status=OK)
    few = rows.exclude(kind="milk").values_list("raw", "eff", "form")
    if any(form == "rules" for *_, form in few) and (more := _as_it_was(farm_id) - subjects):
        return folded_now(farm_id, subjects | more)
    view = fold([replay(raw, eff) for raw, eff in (*((raw, eff) for raw, eff, _ in few), *_last_milks(rows))])
    found = {
        (subject, kind): canonical(content) for part, kind in PLACES.items() for subject, content in view[part].items()
    }
    if view["rules"]["f"]:
        found[farm_id, "rules"] = canonical(view["rules"])
    return found


def _as_it_was(farm_id: str) -> set[str]:
    """Every id the farm has had, if it came from elsewhere: its rules are spread over them."""
    came_from = Farm.objects.values_list("came_from", flat=True).get(pk=farm_id)
    return {farm_id, *came_from.split(",")} if came_from else set()


def _last_milks(rows: QuerySet[Event]) -> list[tuple[str, str]]:
    """Milk is weighed twice a day for years; an outlook looks back a month."""
    last = Window(RowNumber(), partition_by="subject", order_by=("-happened_ms", "-hlc", "-id"))
    found = rows.filter(kind="milk").annotate(place=last).filter(place__lte=MOST_MILKS)
    return list(found.values_list("raw", "eff"))


def _store(farm_id: str, changed: dict[Key, str], gone: set[Key]) -> None:
    if changed:
        rows = [
            Folded(farm_id=farm_id, subject=subject, kind=kind, json=json, stale=kind in FEEDS_OUTLOOK)
            for (subject, kind), json in changed.items()
        ]
        keys = ["farm", "subject", "kind"]
        Folded.objects.bulk_create(rows, update_conflicts=True, unique_fields=keys, update_fields=["json", "stale"])
    for subject, kind in gone:
        Folded.objects.filter(farm_id=farm_id, subject=subject, kind=kind).delete()
    if any(kind == "rules" for _, kind in {*changed, *gone}):
        Folded.objects.filter(farm_id=farm_id, kind__in=("doe", "rules")).update(stale=True)


def rebuild(farm: Farm) -> Refolded:
    """Throw everything folded away and make it again. The farm row must be locked."""
    Folded.objects.filter(farm=farm).delete()
    subjects = set(Event.objects.filter(farm=farm, form__in=SHAPES_OUTLOOK).values_list("subject", flat=True))
    return refold(farm.id, subjects)
