"""What is to be fed, as dated steps, and its entries on the phone; a keeper without plans only keeps it in her head."""

from __future__ import annotations

from tests.support.log import Log

from .days import MEALS, on

Steps = list[tuple[int, int]]


class Plan:
    def __init__(self, log: Log, written: bool) -> None:
        self.log, self.written = log, written
        self.steps: dict[tuple[str, str, str], Steps] = {}
        self.stamp: dict[tuple[str, str, str], str] = {}

    def subject(self, subject: str) -> list[tuple[str, str, str]]:
        return [key for key in self.steps if key[0] == subject]

    def grams(self, subject: str, slot: str, feed: str, day: int) -> int:
        return next((g for start, g in reversed(self.steps.get((subject, slot, feed), [])) if start <= day), 0)

    def lines(self, subject: str, slot: str, day: int) -> list[tuple[str, int]]:
        """Feeds and grams of a meal."""
        of = [(feed, self.grams(subject, slot, feed, day)) for who, at, feed in self.subject(subject) if at == slot]
        return [(feed, g) for feed, g in of if g]

    def set(self, to: str, subject: str, feed: str, steps: Steps, least: float = 0.0, today: int | None = None) -> None:
        """Both meals from a day on, unless the change is too small to make."""
        before, now = self.grams(subject, MEALS[0], feed, steps[0][0]), steps[0][1]
        if len(steps) == 1 and (before == now or (now and before and abs(now / before - 1) < least)):
            return
        for slot in MEALS:
            self.enter(to, subject, slot, feed, steps, steps[0][0] if today is None else today)

    def enter(self, to: str, subject: str, slot: str, feed: str, steps: Steps, today: int, **more: object) -> None:
        """What stood from the first step's day on is dropped."""
        key = (subject, slot, feed)
        self.steps[key] = [step for step in self.steps.get(key, []) if step[0] < steps[0][0]] + sorted(steps)
        if self.written:
            dated = [{"on": on(day), "g": g} for day, g in steps]
            data = {"to": to, "slot": slot, "feed": feed, "steps": dated, "base": self.stamp.get(key, ""), **more}
            self.log.add("ration", subject, data, on(today), v=2 if more else 1)
            self.stamp[key] = str(self.log.events[-1]["hlc"])
