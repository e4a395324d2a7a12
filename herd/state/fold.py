"""Events to the farm's view: the one fold, run whole on a phone, per doe after a late event, and for a rebuild.

The TypeScript twin is frontend/src/core/state/fold.ts; both give the same canonical JSON for the same events.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from .doe_state import apply_state, feeding_of, intake_of, new_doe, observe, water_of, weather_of
from .kinds import CHAINS, KINDS, SEEN_OF_DOE, STATES_OF_DOE
from .media import picture_of, voice_of
from .order import Event, by_stamp, by_time, text
from .places import bag_of, calibration_of, round_of
from .rations import write_ration
from .records import write_record
from .sift import sift
from .twice import said_twice
from .wishes import wishes_of
from .year import hand_over_of, kid_weight_of, kit_use_of, task_of

View = dict[str, Any]
PLACES = {
    "pen": "pens",
    "feed": "feeds",
    "lot": "lots",
    "contact": "contacts",
    "shelf": "shelf",
    "scoop": "scoops",
    "jar": "jars",
    "pack": "packs",
    "kid": "kids",
    "kit": "kit",
    "own_task": "own_tasks",
}
OF_DOE_OR_PEN = ("ration", "wish", "decline", "fed", "intake")
KNOWN = tuple(kind for kind in KINDS if kind not in CHAINS)


def fold(events: list[Event]) -> View:
    """Everything recorded, as one view. Order of arrival does not matter and repeats change nothing.

    What cannot be read is set aside before it touches anything. Should the fold stop on an entry all the same, it
    starts again without that one, so nothing half done is left behind.
    """
    stopped: set[str] = set()
    while True:
        now = Now()
        try:
            return _folded(events, stopped, now)
        except Exception:
            if not now.id or now.id in stopped:
                raise
            stopped.add(now.id)


class Now:
    """Which entry is being folded, so that the one the fold stops on is known."""

    id = ""

    def each(self, events: list[Event]) -> Iterator[Event]:
        for event in events:
            self.id = event["id"]
            yield event
        self.id = ""


def _folded(events: list[Event], stopped: set[str], now: Now) -> View:
    counts, parked, aside, voided, undated = sift(events, stopped)
    view = _empty(voided)
    questions: dict[str, Any] = {}
    stamped = sorted(counts, key=by_stamp)
    for event in now.each(stamped):
        _fold_record(view, event, questions)
    parked += [event["id"] for event in counts if not _placed(view, event)]
    placed = [event for event in stamped if _placed(view, event)]
    for event in now.each([event for event in placed if event["kind"] == "ration"]):
        write_ration(view["rations"], event, questions)
    view["wishes"] = wishes_of(placed)
    timed = sorted(placed, key=by_time)
    for event in now.each(timed):
        _fold_doe(view, event)
        _fold_measure(view, event)
    _fold_meals(view, timed, questions, now)
    view["parked"], view["aside"], view["undated"] = sorted(parked), aside, undated
    questions |= said_twice(timed)
    view["questions"] = [questions[key] for key in sorted(questions)]
    return view


def _empty(voided: dict[str, str]) -> View:
    return {
        "does": {},
        **{part: {} for part in PLACES.values()},
        "rules": {"f": {}, "stamp": {}, "by": {}},
        "rations": {},
        "wishes": [],
        "calibrations": {},
        "bags": {},
        "feedings": [],
        "intakes": [],
        "notes": [],
        "pictures": [],
        "voices": [],
        "weather": [],
        "water": [],
        "rounds": [],
        "kid_weights": [],
        "kit_uses": [],
        "tasks": [],
        "hand_overs": [],
        "questions": [],
        "voided": voided,
        "parked": [],
        "aside": [],
        "undated": [],
    }


def _fold_record(view: View, event: Event, questions: dict[str, Any]) -> None:
    kind, subject = event["kind"], event["subject"]
    if kind == "doe":
        write_record(view["does"].setdefault(subject, new_doe(subject)), event, questions)
    elif kind in PLACES:
        blank = {"id": subject, "f": {}, "stamp": {}, "by": {}}
        write_record(view[PLACES[kind]].setdefault(subject, blank), event, questions)
    elif kind == "rules":
        write_record(view["rules"], event, questions)


def _fold_doe(view: View, event: Event) -> None:
    if event["kind"] in STATES_OF_DOE:
        apply_state(view["does"][event["subject"]], event)
    elif event["kind"] in SEEN_OF_DOE:
        observe(view["does"][event["subject"]], event)


def _placed(view: View, event: Event) -> bool:
    kind, subject = event["kind"], event["subject"]
    if kind not in KNOWN:
        return False
    if kind in STATES_OF_DOE or kind in SEEN_OF_DOE:
        return subject in view["does"]
    if kind in OF_DOE_OR_PEN:
        return subject in view["does"] or subject in view["pens"]
    return kind != "calibration" or subject in view["scoops"] or subject in view["lots"]


def _fold_measure(view: View, event: Event) -> None:
    if event["kind"] == "calibration":
        view["calibrations"].setdefault(event["subject"], []).append(calibration_of(event))
    elif event["kind"] == "new_bag":
        view["bags"].setdefault(text(event["data"], "feed"), []).append(bag_of(event))
    elif event["kind"] == "round":
        view["rounds"].append(round_of(event))
    elif event["kind"] in OF_YEAR:
        part, made = OF_YEAR[event["kind"]]
        view[part].append(made(event))
    elif event["kind"] == "picture":
        view["pictures"].append(picture_of(event))
    elif event["kind"] == "voice":
        view["voices"].append(voice_of(event))


def _fold_meals(view: View, timed: list[Event], questions: dict[str, Any], now: Now) -> None:
    feedings = {event["id"]: feeding_of(event) for event in now.each(timed) if event["kind"] == "fed"}
    view["feedings"] = list(feedings.values())
    for event in now.each(timed):
        if event["kind"] == "intake":
            view["intakes"].append(intake_of(event, feedings))
        elif event["kind"] in OBSERVED:
            part, made = OBSERVED[event["kind"]]
            view[part].append(made(event))
    for key, marks in twice_fed(view["feedings"]).items():
        subject, on, slot = key.split("|")
        values = [{"value": mark, "stamp": "", "ev": mark} for mark in marks]
        questions[f"fed|{key}"] = {"kind": "fed_twice", "subject": subject, "field": f"{on}|{slot}", "values": values}


def _note_of(event: Event) -> dict[str, Any]:
    kept = {name: event[name] for name in ("subject", "on", "happened", "author")}
    return {"ev": event["id"], **kept, "text": text(event["data"], "text")}


OF_YEAR = {
    "kid_weight": ("kid_weights", kid_weight_of),
    "kit_used": ("kit_uses", kit_use_of),
    "task": ("tasks", task_of),
    "hand_over": ("hand_overs", hand_over_of),
}
OBSERVED = {"note": ("notes", _note_of), "weather": ("weather", weather_of), "water": ("water", water_of)}


def twice_fed(feedings: list[dict[str, Any]]) -> dict[str, list[str]]:
    """{"subject|date|slot": feeding ids} where a second feeding, not said to add, reached the same doe or feeder."""
    reached: dict[str, list[dict[str, Any]]] = {}
    for feeding in feedings:
        targets = {to or feeding["subject"] for to, _, _ in feeding["lines"]} if not feeding["adds"] else set()
        for target in sorted(targets):
            reached.setdefault(f"{target}|{feeding['on']}|{feeding['slot']}", []).append(feeding)
    found: dict[str, list[str]] = {}
    for group in reached.values():
        if len(group) > 1:
            first = group[0]
            key = f"{first['subject']}|{first['on']}|{first['slot']}"
            marks = {*found.get(key, []), *(feeding["ev"] for feeding in group)}
            found[key] = sorted(marks)
    return found
