"""One doe's state, walked through her few state events and her observations in order of happening."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

from .checks import is_day
from .order import Event, rows, text, truth, whole
from .served import served, service_of, sooner
from .twice import is_same_kidding

FREEZES_KEPT = 8  # raises are planned for weeks, not for so many waits


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
        "freeze": None,
        "treatments": [],
        "scores": [],
        "weights": [],
        "milks": [],
        "udder": [],
        "signs": [],
        "checkups": [],
        "triages": [],
        "got_into": [],
        "kid_looks": [],
        "afterbirths": [],
        "dam_looks": [],
        "heats": [],
        "services": [],
        "dry_plan": None,
        "checks": [],
        "open_on": "",
        "gestations": [],
    }


def apply_state(doe: dict[str, Any], event: Event) -> None:
    """Apply one state event; events arrive in order of happening."""
    data, on = event["data"], event["on"]
    kind = event["kind"]
    if kind == "bred":
        doe["bred"], doe["check"] = served(event, doe["bred"]), None
        doe["services"].append(service_of(event))
    elif kind == "preg_check":
        _checked(doe, event)
    elif kind == "moved":
        doe["moves"].append([on, text(data, "pen"), event["id"]])
        doe["pen"] = text(data, "pen")
    elif kind == "dried_off":
        doe["dried_on"] = on
    elif kind == "dry_plan":
        last = text(data, "last_on")
        doe["dry_plan"] = {"on": on, "last_on": last, "way": text(data, "way"), "ev": event["id"]} if last else None
    elif kind == "kidded":
        _kidded(doe, event)
    elif kind == "left_herd":
        doe["left_on"] = on
    elif kind == "treatment":
        doe["treatments"].append(treatment_of(event))
    elif kind == "freeze":
        doe["freeze"] = freeze_of(event, doe["freeze"])


def _checked(doe: dict[str, Any], event: Event) -> None:
    data, on = event["data"], event["on"]
    figures = {name: whole(data, name) for name in ("kids", "aged_d")}
    doe["check"] = {"on": on, "result": text(data, "result"), **figures, "ev": event["id"]}
    doe["checks"].append({**doe["check"], "how": text(data, "how")})
    if text(data, "result") == "open":
        doe["bred"], doe["open_on"] = None, on


def _kidded(doe: dict[str, Any], event: Event) -> None:
    """`gestations`: of each kidding whose service is known, the days she may have settled on and the day she kidded."""
    data, on, bred, known = event["data"], event["on"], doe["bred"], doe["kidded"]
    kids = {"born": whole(data, "born"), "alive": whole(data, "alive"), "timed": truth(data, "timed")}
    again = bool(known) and is_same_kidding(known["on"], on)
    hlc = sooner(known, event) if again else event["hlc"]
    doe["kidded"] = {"on": on, **kids, "ev": event["id"], "at": event["happened"], "hlc": hlc}
    doe["kiddings"] += 0 if again else 1
    if bred and not again:
        doe["gestations"].append({"from": bred["from"], "to": bred["to"], "on": on, "ev": event["id"]})
    elif again and doe["gestations"] and doe["gestations"][-1]["ev"] == known["ev"]:
        doe["gestations"][-1] |= {"on": on, "ev": event["id"]}
    doe["bred"], doe["check"], doe["dried_on"], doe["dry_plan"], doe["open_on"] = None, None, "", None, on


def treatment_of(event: Event) -> dict[str, Any]:
    """What she was given, as the label or the vet said, and until when her milk and meat are held."""
    data, found = event["data"], {"ev": event["id"], "on": event["on"], "author": event["author"]}
    said = {name: text(data, name) for name in ("product", "told", "why", "who", "milk_until", "meat_until")}
    return {**found, **said, "carries": _codes(data, "carries")}


def freeze_of(event: Event, before: dict[str, Any] | None) -> dict[str, Any]:
    """Her grain held as it is. `since`: the first day of freezes without a day between; `out_on`: no grain since then;
    `earlier`: those before it that were over, each as its first day, its last and its stamp.

    A lifted one stays as what it was until the day before: somebody has to give back what it took away.
    """
    data, on, yesterday = event["data"], event["on"], day_before(event["on"])
    until, out = text(data, "until_on"), truth(data, "grain_out")
    earlier = list(before.get("earlier", [])) if before else []
    if until == "":
        held = before or {"since": on, "until": "", "grain_out": False, "out_on": ""}
        kept = {name: held[name] for name in ("since", "grain_out", "out_on")}
        end = {**kept, "until": min(held["until"], yesterday)}
    else:
        goes_on = before if before and before["until"] >= yesterday else None
        if before and not goes_on and before["until"] >= before["since"]:
            earlier = [*earlier, [before["since"], before["until"], before["hlc"]]][-FREEZES_KEPT:]
        since, out_on = (goes_on["since"], goes_on["out_on"]) if goes_on else (on, "")
        end = {"since": since, "until": until, "grain_out": out, "out_on": (out_on or on) if out else ""}
    return {
        "ev": event["id"],
        "hlc": event["hlc"],
        "on": on,
        **end,
        "author": event["author"],
        "of": text(data, "of"),
        "earlier": earlier,
    }


def day_before(on: str) -> str:
    """The date before; a text that is no date comes back as it is."""
    return (date.fromisoformat(on) - timedelta(days=1)).isoformat() if is_day(on) and on > "1000" else on


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
        fill, uneven = whole(data, "fill"), truth(data, "uneven")
        doe["udder"].append([on, fill, uneven, event["author"], mark, text(data, "felt")])
    elif kind == "signs":
        seen, absent = _codes(data, "seen"), _codes(data, "absent")
        doe["signs"].append([event["happened"], seen, absent, event["author"], mark, on])
    elif kind == "checkup":
        doe["checkups"].append(checkup_of(event))
    elif kind == "triage":
        doe["triages"].append(triage_of(event))
    elif kind == "got_into":
        doe["got_into"].append(got_into_of(event))
    elif kind == "kid_look":
        doe["kid_looks"].append(kid_look_of(event))
    elif kind == "afterbirth":
        doe["afterbirths"].append([on, event["happened"], text(data, "seen"), event["author"], mark])
    elif kind == "dam_look":
        doe["dam_looks"].append(dam_look_of(event))
    elif kind == "heat":
        doe["heats"].append([on, event["happened"], text(data, "what"), event["author"], mark])


def checkup_of(event: Event) -> list[Any]:
    """[date, happened, temperature x 10, blood ketones x 10, urine, author, id, what was seen on her].

    0 and "" are not measured and not looked at.
    """
    data = event["data"]
    figures = [whole(data, "temp_c_x10"), whole(data, "bhb_x10"), text(data, "urine")]
    seen = {name: text(data, name) for name in ("cud", "dung", "legs", "udder", "belly")}
    seen_on_her = {**seen, "eyes": whole(data, "eyes")}
    return [event["on"], event["happened"], *figures, event["author"], event["id"], seen_on_her]


def triage_of(event: Event) -> dict[str, Any]:
    """What somebody found who looked at a doe off her feed."""
    found = {"ev": event["id"], **{name: event[name] for name in ("on", "happened", "author")}}
    asked = ("of", "new_feed", "water_bad", "bullied", "suspect", "result", "left", "passes", "strains")
    return {**found, **{name: text(event["data"], name) for name in asked}}


def got_into_of(event: Event) -> dict[str, Any]:
    """Grain she helped herself to; None where nobody knows how much."""
    data = event["data"]
    found = {"ev": event["id"], **{name: event[name] for name in ("on", "happened", "author")}}
    return {**found, "feed": text(data, "feed"), "g": None if data.get("g") is None else whole(data, "g")}


def kid_look_of(event: Event) -> dict[str, Any]:
    """What was seen of one of her kids; 0 and "" are not looked at."""
    data = event["data"]
    found = {"ev": event["id"], **{name: event[name] for name in ("on", "happened", "author")}}
    told = {name: text(data, name) for name in ("of", "mouth", "swallows", "fed", "up", "belly")}
    figures = {name: whole(data, name) for name in ("kid", "rectal_c_x10", "fed_g")}
    return {**found, **figures, **told, "dead": truth(data, "dead")}


def dam_look_of(event: Event) -> dict[str, Any]:
    """What was seen of a doe that has kidded; "" is not looked at."""
    found = {"ev": event["id"], **{name: event[name] for name in ("on", "happened", "author")}}
    asked = ("drank", "ate", "halves", "discharge", "bright")
    return {**found, **{name: text(event["data"], name) for name in asked}}


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
    for moved_on, where, _ in doe["moves"]:
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
