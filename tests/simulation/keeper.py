"""The keeper: a good eye, common habits, one tap a meal, and the records and looks of an ordinary barn."""

from __future__ import annotations

from math import exp
from random import Random
from typing import Any

from herd.outlook.days import shift
from herd.science.feeds.library import feeds
from tests.support.log import Log

from .body import FETUS, TERM_D, appetite_kg, milk_kg, need_kj
from .regimes import Regime
from .truth import SCORERS, Goat, Land

FIRST_DAY = "2026-01-10"
GRAIN, HAY, RICH_HAY = "barley_grain", "lot1", "alfalfa_hay_early"
GRAIN_KJ, GRAIN_DM, RICH_KJ, RICH_DM = 12719.0, 0.89, 8912.0, 0.90
PENS = ("dry", "milk", "own", "young")
MEALS = ("morning", "evening")
MEAL_MOST_G, MEAL_MOST_G_KG = 420, 7.5
THIN = 2.9
DRY_OFF = {"standard": 89, "mini": 84}
STEP_G = {"standard": 100, "mini": 60}


class Keeper:
    """Writes the farm's events; what she plans is what the plan says, what is truly fed is up to the barn."""

    def __init__(self, land: Land, does: list[Goat], rng: Random, regime: Regime, known: frozenset[str]) -> None:
        self.land, self.does, self.rng, self.regime, self.known = land, does, rng, regime, known
        self.log, self.pens, self.plan = Log(), dict[str, str](), dict[tuple[str, str], int]()
        self.held: dict[tuple[str, str, str], str] = {}
        self.tape_bias = {doe.name: rng.gauss(0, 0.08) for doe in does}
        self.hay = feeds()[land.hay_book]
        self.hay_kj = float(self.hay.me_kj_kg or 0) * land.hay_factor
        self._records()

    def on(self, day: int) -> str:
        return shift(FIRST_DAY, day)

    def gest(self, doe: Goat, day: int) -> int:
        return -1 if doe.kidded_on >= 0 else doe.start_gest + day

    def _records(self) -> None:
        log, land = self.log, self.land
        lot: dict[str, Any] = {"name": "Hay", "feed": land.hay_book}
        if land.hay_test:
            lot["tdn_pct_x10"] = round(self.hay_kj * land.hay_test / 15.05)
        log.record("lot", HAY, **lot)
        for pen in PENS:
            waste: dict[str, Any] = (
                {"waste_pm": max(10, round(1000 * land.waste / 50) * 50)} if land.waste_known else {}
            )
            log.record("pen", pen, name=pen, **waste)
        for place, doe in enumerate(self.does):
            self._doe(doe, place)

    def _doe(self, doe: Goat, place: int) -> None:
        rng = self.rng
        told = rng.random() < 0.5
        mature = round(doe.mature_kg * rng.gauss(1, 0.06)) if told else 0
        noticed = rng.random() < 0.3
        keeper = "easy" if noticed and doe.own < -0.06 else "hard" if noticed and doe.own > 0.06 else "even"
        born = self.on(-doe.start_gest - (300 if doe.first else 1400))
        fields: dict[str, Any] = {"name": doe.name, "size": doe.size, "breed": doe.breed, "born_on": born}
        fields |= {"mature_kg": mature, "keeper": keeper, "kiddings_before": 0 if doe.first else 2 - (doe.dim >= 0)}
        self.log.record("doe", doe.name, **fields)
        if doe.dim >= 0:
            self.log.add("kidded", doe.name, {"born": 2, "alive": 2}, self.on(-doe.dim))
        bred = -doe.start_gest
        first, last = (bred, bred) if rng.random() < 0.7 else (bred - rng.randint(0, 10), bred + rng.randint(3, 12))
        how = "hand" if first == last else "pen"
        service = {"from_on": self.on(first), "to_on": self.on(last), "how": how, "buck": ""}
        self.log.add("bred", doe.name, service, self.on(min(last, -1)))
        alone = "own" if "own" not in self.pens.values() else "dry"
        pen = "milk" if doe.dim >= 0 else "young" if doe.first else alone
        self.move(doe, pen, -1)

    def move(self, doe: Goat, pen: str, day: int) -> None:
        self.pens[doe.name] = pen
        self.log.add("moved", doe.name, {"pen": pen}, self.on(day))

    def members(self, pen: str) -> list[Goat]:
        return [doe for doe in self.does if self.pens[doe.name] == pen]

    def milk(self, doe: Goat, day: int) -> float:
        """Kilograms today; fewer milkings in the week before she is dried off."""
        left = DRY_OFF[doe.size] - self.gest(doe, day)
        fewer = 0.7 if doe.kidded_on < 0 and left <= 7 else 1.0
        return milk_kg(doe) * fewer

    def want_kj(self, doe: Goat, day: int) -> float:
        """What her eye tells her the doe needs, from years of seeing them hold."""
        need = need_kj(doe, self.land, self.gest(doe, day), self.milk(doe, day), 0.0, self.known)
        return need * self.land.hay_eye * (1 - 0.4 * (doe.condition - 3.0))

    def replan(self, day: int) -> None:
        """Hay every week and after a move, grain every third day."""
        for pen in PENS:
            if self.members(pen) and (day % 7 == 0 or (pen, HAY) not in self.plan):
                self._plan_hay(pen, day)
        for doe in self.does:
            self._plan_grain(doe, day)
            if day % 7 == 3:
                self._plan_extra(doe, day)

    def _plan_hay(self, pen: str, day: int) -> None:
        """The milkers' hay is half good legume; every other pen gets the farm's own hay."""
        kg = sum(self._hay_kg(doe, day) for doe in self.members(pen)) * self.regime.fed(day) / (1 - self.land.waste)
        rich = 0.5 if pen == "milk" else 0.0
        for feed, part, dm in ((HAY, 1 - rich, (self.hay.dm_pm or 900) / 1000), (RICH_HAY, rich, RICH_DM)):
            self._set("pen", pen, feed, round(500 * kg * part / dm / 50) * 50, day)

    def offered_kg(self, pen: str, feed: str) -> float:
        """Dry hay a day that reaches mouths, were every flake of its nominal weight."""
        dm = RICH_DM if feed == RICH_HAY else (self.hay.dm_pm or 900) / 1000
        return 2 * self.plan.get((pen, feed), 0) / 1000 * dm * (1 - self.land.waste)

    def _hay_kg(self, doe: Goat, day: int) -> float:
        gest, milk = self.gest(doe, day), self.milk(doe, day)
        full = appetite_kg(doe, gest, milk)
        grain_kg = 2 * doe.grain_g / 1000 * GRAIN_DM
        if milk > 0:
            return 1.1 * max(0.3, full - grain_kg)
        want = self.want_kj(doe, day) * (1.06 if doe.first else 1.0)
        short = max(0.3, (want - grain_kg * GRAIN_KJ) / self.hay_kj)
        return min(short, 1.05 * max(0.3, full - grain_kg))

    def _plan_extra(self, doe: Goat, day: int) -> None:
        """Good hay of her own on the stand for a thin dry doe, until she has picked up."""
        thin = max(0.0, 3.0 - doe.condition) if doe.condition < (3.0 if doe.extra_g else THIN) else 0.0
        kg = 0.4 * thin * self.want_kj(doe, day) / RICH_KJ * (self.milk(doe, day) == 0)
        grams = min(300, round(500 * kg / RICH_DM / 50) * 50)
        if grams != doe.extra_g:
            doe.extra_g = grams
            self._set("doe", doe.name, RICH_HAY, grams, day)

    def _plan_grain(self, doe: Goat, day: int) -> None:
        target = self._grain_target(doe, day)
        if target > doe.grain_g and day - doe.raised_on >= 3:
            target = min(target, doe.grain_g + STEP_G[doe.size] // 2)
            doe.raised_on = day
        elif target >= doe.grain_g or (day % 3 and target):
            return
        if abs(target - doe.grain_g) >= 15 or (target == 0 and doe.grain_g):
            doe.grain_g = target
            self._set("doe", doe.name, GRAIN, target, day)

    def _grain_target(self, doe: Goat, day: int) -> int:
        """Grams a meal: to the pail in milk, none while dry, by steps to 7 g DM a kg before kidding."""
        gest, milk = self.gest(doe, day), self.milk(doe, day)
        if milk > 0:
            gap = self.want_kj(doe, day) - appetite_kg(doe, gest, milk) * 0.5 * (self.hay_kj + RICH_KJ)
            kg = min(max(0.0, gap / max(1500.0, GRAIN_KJ - self.hay_kj)), 0.018 * doe.kg) / GRAIN_DM
            tapered = kg * min(1.0, max(0.0, (DRY_OFF[doe.size] - gest - 3) / 14)) if gest > 60 else kg
            most = min(MEAL_MOST_G, MEAL_MOST_G_KG * doe.kg)
            return int(min(most, 500 * tapered * self.regime.fed(day)) // 10 * 10)
        many = doe.litter > 1 or doe.size == "mini"
        if gest >= (doe.length_d - 25 if many else 138):
            return round(500 * 0.007 * doe.kg / GRAIN_DM * self.regime.fed(day) / 5) * 5
        return 0

    def _set(self, to: str, subject: str, feed: str, grams: int, day: int) -> None:
        before = self.plan.get((subject, feed))
        if before == grams or (not before and not grams) or (to == "pen" and before and abs(grams / before - 1) < 0.03):
            return
        self.plan[subject, feed] = grams
        for slot in MEALS:
            steps = [{"on": self.on(day), "g": grams}]
            base = self.held.get((subject, slot, feed), "")
            data = {"to": to, "slot": slot, "feed": feed, "steps": steps, "base": base}
            self.log.add("ration", subject, data, self.on(day))
            self.held[subject, slot, feed] = str(self.log.events[-1]["hlc"])

    def confirm(self, day: int) -> dict[str, bool]:
        """One tap a pen and meal, now and then forgotten; whether every meal of the pen was tapped."""
        whole = {}
        for pen in PENS:
            tapped = [slot for slot in MEALS if self.rng.random() >= self.land.miss]
            whole[pen] = len(tapped) == len(MEALS)
            lines = [("", hay, self.plan[pen, hay]) for hay in (HAY, RICH_HAY) if self.plan.get((pen, hay))]
            lines += [(doe.name, RICH_HAY, doe.extra_g) for doe in self.members(pen) if doe.extra_g]
            lines += [(doe.name, GRAIN, doe.grain_g) for doe in self.members(pen) if doe.grain_g]
            for slot in tapped if self.members(pen) else ():
                self.log.fed(pen, self.on(day), slot, *lines)
        return whole

    def left_over(self, pen: str, day: int, share: float) -> None:
        """A feeder a fifth full is noted now and then."""
        if share > 0.2 and self.rng.random() < 0.3:
            for slot in MEALS:
                self.log.intake(pen, self.on(day), slot, "left_some", round(10 * share) * 10)

    def ill(self, doe: Goat, day: int) -> None:
        if self.rng.random() < 0.8:
            how, left = ("slow", 0) if self.rng.random() < 0.4 else ("left_some", round((1 - doe.ill_share) * 10) * 10)
            self.log.intake(doe.name, self.on(day), "morning", how, left)

    def look(self, doe: Goat, day: int, turn: int) -> None:
        """Scores, weights, milk and the scan, each on its own round."""
        land, rng, gest = self.land, self.rng, self.gest(doe, day)
        if (day + 3 * turn) % land.score_every_d == 0:
            who = rng.choice(SCORERS)
            seen = doe.condition + land.scorers[who] + rng.gauss(0, land.hand)
            x100 = min(500, max(100, round(4 * seen) * 25))
            self.log.add("score", doe.name, {"x100": x100}, self.on(day), author=who)
        if day % 35 == 1 and land.weigh != "class":
            self.log.add("weight", doe.name, self._weight(doe, gest), self.on(day))
        if land.milk_every_d and doe.dim > 3 and day % land.milk_every_d == 2:
            for slot in MEALS:
                g = round(500 * self.milk(doe, day) * rng.gauss(1, 0.03))
                self.log.add("milk", doe.name, {"g": g, "fat_x100": 0}, self.on(day), slot)
        if land.scans and gest >= 48 and not doe.scanned:
            doe.scanned = True
            kids = doe.litter if rng.random() < land.scan_right else max(1, doe.litter + rng.choice((-1, 1)))
            check = {"result": "pregnant", "kids": min(kids, 5), "how": "scan"}
            self.log.add("preg_check", doe.name, check, self.on(day))

    def _weight(self, doe: Goat, gest: int) -> dict[str, Any]:
        womb = 0.0
        if gest > 0:
            womb = doe.litter * doe.kid_kg / 0.6 * exp(-FETUS[1] * (exp(-FETUS[2] * gest) - exp(-FETUS[2] * TERM_D)))
        if self.land.weigh == "scale":
            sd = 0.0 if "weight" in self.known else 0.01
            seen, how = (doe.kg + womb) * self.rng.gauss(1, sd), "scale"
        else:
            seen, how = (doe.kg + womb / 2) * (1 + self.tape_bias[doe.name] + self.rng.gauss(0, 0.06)), "tape"
        return {"g": round(1000 * max(8.0, seen)), "how": how, "girth_mm": 0, "length_mm": 0}

    def dry_off(self, doe: Goat, day: int) -> None:
        doe.dim, doe.dried = -1, True
        self.log.add("dried_off", doe.name, {}, self.on(day))
        self.move(doe, "dry", day)

    def kidded(self, doe: Goat, day: int) -> None:
        doe.kidded_on, doe.dim = day, 0
        self.log.add("kidded", doe.name, {"born": min(6, doe.litter), "alive": doe.litter}, self.on(day))
        self.move(doe, "milk", day)
        doe.raised_on = day
