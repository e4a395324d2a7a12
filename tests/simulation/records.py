"""What the people of a farm write down of their does, hay and measures: before the first day, and as it happens."""

from __future__ import annotations

from random import Random
from typing import Any

from tests.support.log import Log

from .days import WARM_UP_D, on
from .sample import Farm
from .truth import body
from .truth.goat import Goat

# by her grown weight, from which on: judgement
BREEDS = {
    "mini": ((36, ("mini_cross", "unknown")), (0, ("nigerian_dwarf", "nigerian_dwarf", "unknown"))),
    "standard": (
        (66, ("saanen", "nubian", "unknown")),
        (54, ("alpine", "nubian", "unknown")),
        (0, ("toggenburg", "unknown")),
    ),
}
# What a laboratory prints: tenths of a per cent TDN, by ME = 0.82 DE (recalled).
TDN_KJ = 15.13


def breeds_of(doe: Goat) -> tuple[str, ...]:
    return next(breeds for least, breeds in BREEDS[doe.size] if doe.mature_kg >= least)


class Records:
    def __init__(self, farm: Farm) -> None:
        self.farm, self.rng = farm, Random(f"{farm.seed}|keeper")
        self.log = Log()
        self.pen_of = {name: pen.id for pen in farm.pens for name in pen.does}
        self.tape = {doe.name: self.rng.gauss(0, 0.07) for doe in farm.does}

    def doe(self, name: str) -> Goat:
        return next(doe for doe in self.farm.does if doe.name == name)

    def all_before(self) -> None:
        how = self.farm.habits
        for lot in (self.farm.feeds["hay"], self.farm.feeds["legume"]):
            tested = {"tdn_pct_x10": round(lot.tested_kj / TDN_KJ)} if lot.tested_kj else {}
            self.log.record("lot", lot.id, name=lot.id, feed=lot.called, **tested)
        self._measures()
        told = {"waste_pm": min(600, max(20, round(20 * how.waste) * 50))} if how.waste_told else {}
        for pen in [pen.id for pen in self.farm.pens]:
            self.log.record("pen", pen, name=pen, **told)
        for doe in self.farm.does:
            self._doe(doe)

    def _measures(self) -> None:
        """A scoop and a flake somebody weighed after the bag was opened: not on every farm."""
        rng, feeds, weighed = self.rng, self.farm.feeds, on(-WARM_UP_D + 1)
        if rng.random() < 0.7:
            self.log.add("new_bag", feeds["grain"].id, {"feed": feeds["grain"].id}, on(-WARM_UP_D))
        if rng.random() < 0.6:
            self.log.record("scoop", "scoop", name="scoop", feed=feeds["grain"].id)
            fills = [rng.choice((240, 320, 400, 520))] * 3
            self.log.add("calibration", "scoop", {"of": "scoop", "fills_g": fills, "lot": ""}, weighed, "morning")
        if rng.random() < 0.6:
            for lot in ("lot1", "lot2"):
                fills = [rng.randint(14, 22) * 100] * 3
                self.log.add("calibration", lot, {"of": "flake", "fills_g": fills, "lot": lot}, weighed, "morning")

    def _doe(self, doe: Goat) -> None:
        rng, how = self.rng, self.farm.habits
        mature = round(doe.mature_kg * rng.gauss(1, 0.06)) if how.weighs == "told" or rng.random() < 0.4 else 0
        born = on(-(400 if doe.first else 1500) - rng.randint(0, 90))
        fields: dict[str, Any] = {"name": doe.name, "size": doe.size, "breed": rng.choice(breeds_of(doe))}
        before = 0 if doe.first else 1
        self.log.record(
            "doe", doe.name, born_on=born, mature_kg=mature, keeper="even", kiddings_before=before, **fields
        )
        self.log.add("moved", doe.name, {"pen": self.pen_of[doe.name]}, on(-300))
        if doe.kidded_before is not None:
            self.log.add("kidded", doe.name, {"born": 2, "alive": 2}, on(doe.kidded_before))
        if doe.bred is not None and doe.bred < -WARM_UP_D:
            self.bred(doe)
        kids = doe.kids_on()
        if kids is not None and kids < -WARM_UP_D:
            self.kidded(doe, kids)
        if doe.dried is not None and doe.dried < -WARM_UP_D:
            self.log.add("dried_off", doe.name, {}, on(doe.dried))
        if how.scans and doe.gest(-WARM_UP_D) >= 50:
            self.scan(doe, -rng.randint(WARM_UP_D, doe.gest(0) - 45) if doe.gest(0) > 60 else -WARM_UP_D)
        if how.weighs in ("scale", "tape"):
            self.weigh(doe, -rng.randint(WARM_UP_D, 40))
        if how.score_every_d:
            for day in range(-60 + rng.randint(0, how.score_every_d), -WARM_UP_D, how.score_every_d):
                self.score(doe, day)

    def bred(self, doe: Goat) -> None:
        day = doe.bred or 0
        wide = self.rng.random() < 0.25
        first, last = (day - self.rng.randint(0, 9), day + self.rng.randint(1, 10)) if wide else (day, day)
        how = "pen" if wide else "hand"
        self.log.add("bred", doe.name, {"from_on": on(first), "to_on": on(last), "how": how, "buck": ""}, on(first))

    def kidded(self, doe: Goat, day: int) -> None:
        self.log.add("kidded", doe.name, {"born": min(6, doe.litter), "alive": doe.litter}, on(day))

    def scan(self, doe: Goat, day: int) -> None:
        right = self.rng.random() < self.farm.habits.scan_right
        kids = doe.litter if right else max(1, doe.litter + self.rng.choice((-1, 1)))
        self.log.add("preg_check", doe.name, {"result": "pregnant", "kids": min(5, kids), "how": "scan"}, on(day))

    def weigh(self, doe: Goat, day: int) -> None:
        womb = body.womb_kg(doe, doe.gest(day))
        if self.farm.habits.weighs == "scale":
            kg, how = (doe.kg + womb) * self.rng.gauss(1, 0.01), "scale"
        else:
            kg, how = (doe.kg + womb / 2) * (1 + self.tape[doe.name] + self.rng.gauss(0, 0.05)), "tape"
        data = {"g": round(1000 * max(8.0, kg)), "how": how, "girth_mm": 0, "length_mm": 0}
        self.log.add("weight", doe.name, data, on(day))

    def score(self, doe: Goat, day: int) -> None:
        seen = doe.condition + self.farm.habits.scorer + self.rng.gauss(0, self.farm.habits.hand)
        x100 = min(500, max(100, round(4 * seen) * 25))
        doe.scores.append(x100 / 100)
        self.log.score(doe.name, on(day), x100)
