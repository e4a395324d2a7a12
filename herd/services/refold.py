"""Folded rows made again from the log: one path for a late event, a rebuild and an upgrade. What was merely seen of a
doe takes her row further (herd/services/further.py), to the same."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from herd.models import Event, Farm, Folded
from herd.models.event import OK
from herd.state.fold import fold
from herd.state.kinds import CHAINS, SHAPES_OUTLOOK
from herd.state.order import content, text

from .further import MOST, Seen, further, tail_of
from .last_seen import latest
from .wire import canonical, replay

PLACES = {"does": "doe", "pens": "pen", "feeds": "feed", "lots": "lot", "scoops": "scoop"}
# A pen says where does stand; no outlook is made from it.
FEEDS_OUTLOOK = ("doe", "feed", "lot", "rules")
# Of these a subject's few are read, of what is merely seen the latest.
FEW = tuple(kind for kind in SHAPES_OUTLOOK if kind not in MOST)
SEEN = ("raw", "eff", "subject", "kind", "happened_ms", "hlc", "id")
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


def refold(farm_id: str, subjects: set[str], seen: Seen | None = None) -> Refolded:
    """Fold these subjects again and store what differs. The farm row must be locked.

    `seen`: entries of other subjects, already in the log, that are merely seen.
    """
    taken = further(farm_id, {key: rows for key, rows in (seen or {}).items() if key not in subjects})
    _keep(taken.rows)
    found = _refolded(farm_id, subjects | taken.left)
    found.changed |= {(subject, "doe") for subject in taken.moved}
    return found


def _refolded(farm_id: str, subjects: set[str]) -> Refolded:
    if not subjects:
        return Refolded()
    rows = Folded.objects.filter(farm_id=farm_id, subject__in=subjects)
    before = {(row.subject, row.kind): row.json for row in rows}
    tailed = {row.subject: row.tail for row in rows if row.kind == "doe"}
    after, tails = folded_now(farm_id, subjects)
    changed = {key for key, json in after.items() if before.get(key) != json}
    gone = before.keys() - after.keys()
    _store(farm_id, {key: after[key] for key in changed}, gone, tails)
    # Seen and not counted, a row may stand as it was and its tail not.
    for subject in {key[0] for key in after.keys() - changed if key[1] == "doe" and tails[key[0]] != tailed[key[0]]}:
        rows.filter(subject=subject, kind="doe").update(tail=tails[subject])
    return Refolded(
        changed=changed | gone,
        appeared={subject for subject, _ in after.keys() - before.keys()},
        vanished={subject for subject, _ in gone},
    )


def folded_now(farm_id: str, subjects: set[str]) -> tuple[dict[Key, str], dict[str, str]]:
    """What the log says about these subjects: {(subject, kind): canonical JSON}, and the tails of does."""
    rows = Event.objects.filter(farm_id=farm_id, subject__in=subjects, fold_status=OK)
    few = list(rows.filter(kind__in=FEW).values_list("raw", "eff", "form"))
    if any(form == "rules" for *_, form in few) and (more := _as_it_was(farm_id) - subjects):
        return folded_now(farm_id, subjects | more)
    links = [replay(*row) for row in rows.filter(kind__in=CHAINS, form__in=SHAPES_OUTLOOK).values_list("raw", "eff")]
    last = latest(farm_id, subjects, MOST, SEEN)
    view = fold([*(replay(raw, eff) for raw, eff, _ in few), *links, *(replay(row[0], row[1]) for row in last)])
    found = {
        (subject, kind): canonical(content) for part, kind in PLACES.items() for subject, content in view[part].items()
    }
    if view["rules"]["f"]:
        found[farm_id, "rules"] = canonical(view["rules"])
    return found, _tails(view["does"], links, last)


def _as_it_was(farm_id: str) -> set[str]:
    """Every id the farm has had, if it came from elsewhere: its rules are spread over them."""
    came_from = Farm.objects.values_list("came_from", flat=True).get(pk=farm_id)
    return {farm_id, *came_from.split(",")} if came_from else set()


def _tails(does: dict[str, Any], links: list[dict[str, Any]], last: list[tuple[Any, ...]]) -> dict[str, str]:
    """None of a doe one of whose last ones is named by a void or a correction, straight or by way of another."""
    named = {text(content(link), "of") for link in links}
    touched = {link["subject"] for link in links if link["id"] in named}
    touched |= {row[2] for row in last if row[6] in named}
    places: dict[str, list[tuple[Any, ...]]] = {doe: [] for doe in does}
    for row in last:
        if row[2] in places:
            places[row[2]].append(row[3:])
    return {doe: "" if doe in touched else tail_of(does[doe], places[doe]) for doe in does}


def _keep(rows: list[Folded]) -> None:
    keys, fields = ["farm", "subject", "kind"], ["json", "stale", "tail"]
    Folded.objects.bulk_create(rows, update_conflicts=True, unique_fields=keys, update_fields=fields)


def _store(farm_id: str, changed: dict[Key, str], gone: set[Key], tails: dict[str, str]) -> None:
    _keep(
        [
            Folded(
                farm_id=farm_id,
                subject=subject,
                kind=kind,
                json=json,
                stale=kind in FEEDS_OUTLOOK,
                tail=tails[subject] if kind == "doe" else "",
            )
            for (subject, kind), json in changed.items()
        ]
    )
    for subject, kind in gone:
        Folded.objects.filter(farm_id=farm_id, subject=subject, kind=kind).delete()
    if any(kind == "rules" for _, kind in {*changed, *gone}):
        Folded.objects.filter(farm_id=farm_id, kind__in=("doe", "rules")).update(stale=True)


def rebuild(farm: Farm) -> Refolded:
    """Throw everything folded away and make it again. The farm row must be locked."""
    Folded.objects.filter(farm=farm).delete()
    subjects = set(Event.objects.filter(farm=farm, form__in=SHAPES_OUTLOOK).values_list("subject", flat=True))
    return refold(farm.id, subjects)
