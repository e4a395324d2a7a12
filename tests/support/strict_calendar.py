"""iCalendar read as RFC 5545 writes it down, refusing whatever it does not allow: a second reading beside the package
that wrote it. Only what a feed of whole days needs; a property it does not know is a fault."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from datetime import date, datetime

MOST_OCTETS = 75
NAME = r"(?:X-)?[A-Z0-9-]+"
# 3.1: a parameter's value is without quotes unless it stands in them; no control characters anywhere.
PARAM = rf"({NAME})=((?:\"[^\"\x00-\x08\x0a-\x1f\x7f]*\"|[^\";:,\x00-\x08\x0a-\x1f\x7f]*))"
LINE = re.compile(rf"({NAME})((?:;{PARAM})*):([^\x00-\x08\x0a-\x1f\x7f]*)")
# 3.3.11: a comma, a semicolon, a backslash and a new line are escaped, and nothing else is.
TEXT = re.compile(r"(?:[^\\;,]|\\[\\;,nN])*")
DAY, STAMP, SPAN = re.compile(r"\d{8}"), re.compile(r"\d{8}T\d{6}Z"), re.compile(r"PT?\d+[WDHMS]")
# How often each may stand: 3.6 and 3.6.1, RFC 7986 for REFRESH-INTERVAL.
ONCE = {
    "VCALENDAR": {"PRODID", "VERSION"},
    "VEVENT": {"UID", "DTSTAMP", "DTSTART", "DTEND", "SUMMARY", "TRANSP"},
}
AT_MOST_ONCE = {
    "VCALENDAR": {"METHOD", "X-WR-CALNAME", "X-WR-TIMEZONE", "REFRESH-INTERVAL"},
    "VEVENT": {"DESCRIPTION"},
}


class NotSo(ValueError):
    pass


@dataclass
class Part:
    kind: str
    lines: list[tuple[str, dict[str, str], str]] = field(default_factory=list)

    def one(self, name: str) -> str:
        return next(value for found, _, value in self.lines if found == name)


def read(text: bytes) -> tuple[Part, list[Part]]:
    """The calendar and its events; NotSo with the line where it is no iCalendar."""
    calendar, events, open_ = Part("VCALENDAR"), list[Part](), list[Part]()
    for line in unfolded(text):
        found = LINE.fullmatch(line)
        if not found:
            raise NotSo(line)
        name, value = found[1], found[5]
        if name == "BEGIN":
            expected = ["VCALENDAR"] if not open_ else ["VEVENT"] if len(open_) == 1 else []
            if value not in expected or (not open_ and calendar.lines):
                raise NotSo(line)
            open_.append(calendar if value == "VCALENDAR" else Part(value))
            events += open_[1:]
        elif name == "END":
            if not open_ or open_.pop().kind != value:
                raise NotSo(line)
        elif not open_:
            raise NotSo(line)
        else:
            params = dict(re.findall(PARAM, found[2]))
            _value(name, params, value)
            open_[-1].lines.append((name, params, value))
    if open_:
        raise NotSo("not ended")
    for part in (calendar, *events):
        _counted(part)
    if len({event.one("UID") for event in events}) != len(events):
        raise NotSo("one id twice")
    return calendar, events


def unfolded(text: bytes) -> list[str]:
    """3.1: lines end in CRLF and are of at most 75 octets; one that begins with a blank goes on from that before."""
    if not text.endswith(b"\r\n"):
        raise NotSo("the last line is not ended")
    made: list[bytes] = []
    for line in text[:-2].split(b"\r\n"):
        if len(line) > MOST_OCTETS or b"\r" in line or b"\n" in line or not line:
            raise NotSo(repr(line))
        if line[:1] in b" \t":
            made[-1] += line[1:]
        else:
            made.append(line)
    return [line.decode("utf-8") for line in made]


def days_of(event: Part) -> tuple[date, date]:
    """First day, and the first no longer in it."""
    first, after = (date.fromisoformat(event.one(name)) for name in ("DTSTART", "DTEND"))
    return first, after


def _value(name: str, params: dict[str, str], value: str) -> None:
    if name in ("DTSTART", "DTEND"):
        good = params == {"VALUE": "DATE"} and DAY.fullmatch(value) and date.fromisoformat(value)
    elif name == "DTSTAMP":
        good = not params and STAMP.fullmatch(value) and datetime.fromisoformat(value)
    elif name == "REFRESH-INTERVAL":
        good = params == {"VALUE": "DURATION"} and SPAN.fullmatch(value)
    elif name in ("TRANSP", "METHOD", "VERSION"):
        good = value in {"TRANSP": ["OPAQUE", "TRANSPARENT"], "METHOD": ["PUBLISH"], "VERSION": ["2.0"]}[name]
    else:
        good = TEXT.fullmatch(value)
    if not good:
        raise NotSo(f"{name} {params}: {value}")


def _counted(part: Part) -> None:
    names = [name for name, _, _ in part.lines]
    known = ONCE[part.kind] | AT_MOST_ONCE[part.kind]
    if set(names) - known or any(names.count(one) > 1 for one in known) or not ONCE[part.kind] <= set(names):
        raise NotSo(f"{part.kind}: {names}")
    if part.kind == "VEVENT":
        first, after = days_of(part)
        # 3.6.1: the end of whole days is not in them, so it is later than the start
        if after <= first:
            raise NotSo(f"{first} to {after}")
