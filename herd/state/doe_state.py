"""One doe's state, walked through her few state events and her observations in order of happening."""

from __future__ import annotations

from typing import Any

from .order import Event, rows, text, truth, whole


def new_doe(doe_id: str) -> dict[str, Any]:
    """A doe nobody has said anything about yet."""
    return {
        "id": doe_id,
        "f": {},
        "stamp": {},
        "by": {},
        "moves": [],
        "pen": "",
        "bred": None,
        "check": None,
        "dried_on": "",
        "kidded": None,
        "kiddings": 0,
        "left_on": "",
        "scores": [],
        "weights": [],
        "milks": [],
        "udder": [],
        "signs": [],
        "checkups": [],
    }


def apply_state(doe: dict[str, Any], event: Event) -> None:
    """Apply one state event; events arrive in order of happening."""
    data, on = event["data"], event["on"]
    kind = event["kind"]
    if kind == "bred":
        first = text(data, "from_on") or on
        how = text(data, "how")
        doe["bred"] = {"from": first, "to": max(text(data, "to_on"), first), "how": how, "ev": event["id"]}
        doe["check"] = None
    elif kind == "preg_check":
        doe["check"] = {"on": on, "result": text(data, "result"), "kids": whole(data, "kids"), "ev": event["id"]}
        if text(data, "result") == "open":
            doe["bred"] = None
    elif kind == "moved":
        doe["moves"].append([on, text(data, "pen")])
        doe["pen"] = text(data, "pen")
    elif kind == "dried_off":
        doe["dried_on"] = on
    elif kind == "kidded":
        alive = whole(data, "alive")
        doe["kidded"] = {"on": on, "born": whole(data, "born"), "alive": alive, "ev": event["id"]}
        doe["kiddings"] += 1
        doe["bred"], doe["check"], doe["dried_on"] = None, None, ""
    elif kind == "left_herd":
        doe["left_on"] = on


def observe(doe: dict[str, Any], event: Event) -> None:
    """Append one observation of the doe; events arrive in order of happening."""
    data, on, mark = event["data"], event["on"], event["id"]
    kind = event["kind"]
    if kind == "score":
        doe["scores"].append([on, whole(data, "x100"), event["author"], mark])
    elif kind == "weight":
        doe["weights"].append([on, whole(data, "g"), text(data, "how"), mark])
    elif kind == "milk":
        doe["milks"].append([on, whole(data, "g"), event["slot"], whole(data, "fat_x100"), mark])
    elif kind == "udder":
        doe["udder"].append([on, whole(data, "fill"), truth(data, "uneven"), event["author"], mark])
    elif kind == "signs":
        seen, absent = _codes(data, "seen"), _codes(data, "absent")
        doe["signs"].append([event["happened"], seen, absent, event["author"], mark])
    elif kind == "checkup":
        doe["checkups"].append(checkup_of(event))


def checkup_of(event: Event) -> list[Any]:
    """[date, happened, temperature x 10, blood ketones x 10, urine, author, id]; 0 and "" are not measured."""
    data = event["data"]
    figures = [whole(data, "temp_c_x10"), whole(data, "bhb_x10"), text(data, "urine")]
    return [event["on"], event["happened"], *figures, event["author"], event["id"]]


def weather_of(event: Event) -> list[Any]:
    """[date, lowest temperature C, wet and windy, id]."""
    return [event["on"], whole(event["data"], "low_c"), truth(event["data"], "wet"), event["id"]]


def water_of(event: Event) -> dict[str, Any]:
    """A water test, values as printed: [what, printed, unit]; drunk_l is 0 when nobody measured it."""
    data = event["data"]
    values = [[text(row, "what"), text(row, "printed"), text(row, "unit")] for row in rows(data, "values")]
    found = {"ev": event["id"], "on": event["on"], "place": text(data, "place"), "drunk_l": whole(data, "drunk_l")}
    return {**found, "values": values}


def pen_on(doe: dict[str, Any], on: str) -> str:
    """The pen she was in on a date: the last move on or before it, or else her first known pen."""
    pen = ""
    for moved_on, where in doe["moves"]:
        if moved_on <= on:
            pen = where
    return pen


def _codes(data: dict[str, Any], key: str) -> list[str]:
    value = data.get(key)
    return sorted({code for code in value if isinstance(code, str)}) if isinstance(value, list) else []


def feeding_of(event: Event) -> dict[str, Any]:
    """One confirmed feeding as the view keeps it."""
    lines = [[text(line, "to"), text(line, "feed"), whole(line, "g")] for line in rows(event["data"], "lines")]
    return {
        "ev": event["id"],
        "subject": event["subject"],
        "on": event["on"],
        "slot": event["slot"],
        "happened": event["happened"],
        "author": event["author"],
        "adds": truth(event["data"], "adds"),
        "lines": lines,
    }


def intake_of(event: Event, feedings: dict[str, dict[str, Any]]) -> dict[str, Any]:
    """What was seen at the feeder; it takes date and slot from the feeding it names."""
    data = event["data"]
    fed = feedings.get(text(data, "fed"))
    how = text(data, "how")
    left_pm = {"ate_all": 0, "left_some": 10 * whole(data, "left_pct"), "refused": 1000}.get(how, 0)
    return {
        "ev": event["id"],
        "subject": event["subject"],
        "on": fed["on"] if fed else event["on"],
        "slot": fed["slot"] if fed else event["slot"],
        "happened": event["happened"],
        "author": event["author"],
        "how": how,
        "left_pm": left_pm,
        "feed": text(data, "feed"),
    }
