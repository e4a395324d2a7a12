"""The keeper: how she fills a feeder and a scoop, what she looks at, and what she taps."""

from __future__ import annotations

from dataclasses import replace

from .days import MEALS, SLOTS, WARM_UP_D, on
from .plan import Plan
from .records import Records
from .sample import FLAKE, FOUND, FREE, GOOD, RICH, SHORT, Farm, Pen
from .truth import body
from .truth.goat import Goat

# Her own limits of grain, by what is usual: a meal by her weight and by the scoop, a raise each third day (judgement).
MEAL_G, MEAL_G_KG, RAISE_G, RAISE_D = 430, 7.0, {"standard": 45, "mini": 25}, 3
CLOSE_UP_D, CLOSE_UP_G_KG, LATE_GEST = 24, 6.0, 100


class Keeper(Records):
    def __init__(self, farm: Farm) -> None:
        super().__init__(farm)
        self.plan = Plan(self.log, farm.habits.plans)
        self.pens = {pen.id: pen for pen in farm.pens}
        self.raised, self.asked = dict[str, int](), dict[str, int]()
        self.left_alone: set[str] = set()
        self.by_condition = 1
        self.all_before()

    # what she does on a day

    def turns(self, day: int) -> None:
        """Breedings, dry-offs, kiddings: each on its day."""
        for doe in self.farm.does:
            if doe.bred == day:
                self.bred(doe)
            if doe.dried == day:
                self.log.add("dried_off", doe.name, {}, on(day))
            if doe.kids_on() == day:
                self.kidded(doe, day)
                self._stall(doe, day)

    def _stall(self, doe: Goat, day: int) -> None:
        """A doe that has kidded is fed by herself, as well as her keeper knows."""
        old = self.pens[self.pen_of[doe.name]]
        new = f"stall-{doe.name}"
        old.does.remove(doe.name)
        share = max(0.4, old.legume_share)
        self.pens[new] = Pen(new, [doe.name], GOOD, FREE, "hay", share, 1.0, -99, 0.0, 1.25)
        self.pen_of[doe.name] = new
        self.log.record("pen", new, name=new)
        self.log.add("moved", doe.name, {"pen": new}, on(day))
        self.left_alone.discard(doe.name)

    def looks(self, day: int) -> None:
        """Scores, weights, milk, scans, each on its own round."""
        how = self.farm.habits
        for turn, doe in enumerate(self.farm.does):
            if how.score_every_d and (day + 5 * turn) % how.score_every_d == 0:
                self.score(doe, day)
            elif how.answers and how.score_every_d and self.asked.get(doe.name, 99) <= day:
                self.score(doe, day)
                self.asked.pop(doe.name)
            if how.weighs in ("scale", "tape") and (day + turn) % 30 == 4:
                self.weigh(doe, day)
            if how.milk_every_d and doe.dim(day) > 3 and day % how.milk_every_d == 2:
                for slot in MEALS:
                    g = round(500 * body.milk_kg(doe, day) * self.rng.gauss(1, 0.03))
                    self.log.add("milk", doe.name, {"g": g, "fat_x100": 0}, on(day), slot)
            if how.scans and doe.gest(day) == 50:
                self.scan(doe, day)

    def heard(self, name: str, code: str, day: int) -> None:
        """Asked for a score she goes and takes one within three days, if she is of those who do."""
        if code == "score_her" and name not in self.asked:
            self.asked[name] = day + self.rng.randint(1, 3)

    def move(self, name: str, pen: str, day: int) -> None:
        """Into another pen, which she makes where there is none; she fills its feeder only if she is told to."""
        old = self.pens[self.pen_of[name]]
        old.does.remove(name)
        if pen not in self.pens:
            self.pens[pen] = replace(old, id=pen, does=[], start=-99)
            self.log.record("pen", pen, name=pen)
        elif not self.pens[pen].does and not self.farm.habits.plans:
            # who keeps no plan has put nothing into an empty pen
            for key in self.plan.subject(pen):
                del self.plan.steps[key]
        self.pens[pen].does.append(name)
        self.pen_of[name] = pen
        self.log.add("moved", name, {"pen": pen}, on(day))

    # what she feeds

    def replan(self, day: int) -> None:
        for doe in self.farm.does:
            if doe.name not in self.left_alone:
                self._grain(doe, day)
        for pen in self.pens.values():
            if pen.does and pen.id not in self.left_alone:
                self._hay(pen, day)

    def mix(self, pen: Pen) -> tuple[float, float]:
        """Energy and fibre per kg of the pen's hay."""
        hay, legume, share = self.farm.feeds[pen.hay], self.farm.feeds["legume"], pen.legume_share
        return hay.kj * (1 - share) + legume.kj * share, hay.ndf * (1 - share) + legume.ndf * share

    def _hay(self, pen: Pen, day: int) -> None:
        due = (day + len(pen.id)) % 7 == 0 or not self.plan.subject(pen.id)
        fixed = pen.regime in (SHORT, FOUND) and bool(self.plan.subject(pen.id))
        if day == pen.start or (due and not fixed):
            self.fill(pen, day)

    def fill(self, pen: Pen, day: int, to_g: int = 50, least: float = 0.04) -> None:
        """Set what goes into the feeder from a day on: by eye, so that light flakes mean more of them."""
        reaches = (1 - self.farm.habits.waste) * self.farm.habits.flake
        kg = sum(self._hay_kg(pen, self.doe(name), day) for name in pen.does) / reaches
        for feed, part in (("hay", 1 - pen.legume_share), ("legume", pen.legume_share)):
            lot = self.farm.feeds[feed]
            grams = round(500 * kg * part / lot.dm / to_g) * to_g
            self.plan.set("pen", pen.id, lot.id, [(day, grams)], least)

    def _hay_kg(self, pen: Pen, doe: Goat, day: int) -> float:
        """Dry hay a day that is to reach her mouth, by the keeper's eye, which sees true need a little awry."""
        land, (kj, ndf) = self.farm.land, self.mix(pen)
        grain = self.farm.feeds["grain"]
        grain_kg = 2 * self.plan.grams(doe.name, "morning", grain.id, day) / 1000 * grain.dm
        full = max(0.25, body.appetite_kg(doe, land, day, ndf, kj) - grain_kg)
        if pen.style == FREE:
            return full * pen.plenty
        want = max(0.25, (self.want_kj(doe, day) - grain_kg * grain.kj) / kj)
        usual = full * 1.08 if doe.dim(day) >= 0 else min(full * 1.05, want)
        if pen.regime == FOUND:
            return full * pen.factor
        return min(full, usual) * pen.factor if pen.regime == SHORT and day >= pen.start else usual

    def want_kj(self, doe: Goat, day: int) -> float:
        """What years of seeing them hold tell her; a thin doe gets more, a fat one less until she is late."""
        out = (3.0 - doe.condition) * self.by_condition
        more = min(0.2, 0.35 * out) if out > 0 else 0.15 * out * (doe.gest(day) < LATE_GEST)
        return body.need_kj(doe, self.farm.land, day) * self.farm.habits.eye * (1 + more)

    def _grain(self, doe: Goat, day: int) -> None:
        feed = self.farm.feeds["grain"].id
        now = self.plan.grams(doe.name, "morning", feed, day)
        want = self.grain_target(doe, day)
        if day == -WARM_UP_D:
            self.plan.set("doe", doe.name, feed, [(day, want)])
        elif want > now and day - self.raised.get(doe.name, -99) >= RAISE_D:
            self.raised[doe.name] = day
            self.plan.set("doe", doe.name, feed, [(day, min(want, now + RAISE_G[doe.size]))])
        elif want < now and (day % 3 == 0 or want == 0):
            self.plan.set("doe", doe.name, feed, [(day, want)], least=0.06)

    def grain_target(self, doe: Goat, day: int) -> int:
        """Grams a meal: to the pail in milk, none while dry, up again before kidding; or what her regime says."""
        pen = self.pens[self.pen_of[doe.name]]
        most = min(MEAL_G, MEAL_G_KG * doe.kg)
        left = doe.dried - day if doe.dried is not None else 99
        if pen.regime in (RICH, FOUND):
            return round(min(most, 500 * pen.grain_g_kg * doe.kg / 1000) * (left > 0 or pen.regime == RICH) / 10) * 10
        factor = pen.factor if pen.regime == SHORT and day >= pen.start else 1.0
        if doe.dim(day) >= 0:
            return round(min(most, self._for_milk(doe, pen, day)) * factor * min(1.0, max(0, left - 3) / 14) / 10) * 10
        gest = doe.gest(day)
        if gest >= 0 and doe.carried_d - gest <= (CLOSE_UP_D if doe.litter > 1 else CLOSE_UP_D // 2):
            return round(min(most, 500 * CLOSE_UP_G_KG / 1000 * doe.kg) * factor / 5) * 5
        return 0

    def _for_milk(self, doe: Goat, pen: Pen, day: int) -> float:
        """What of her need her hay will not bring."""
        grain, (kj, ndf) = self.farm.feeds["grain"], self.mix(pen)
        gap = self.want_kj(doe, day) - body.room_kg(doe, self.farm.land, day, ndf) * kj
        return 500 * max(0.0, gap) / max(2000.0, grain.kj - kj) / grain.dm / self.farm.habits.scoop

    def confirm(self, day: int) -> None:
        """One tap a pen and meal, now and then forgotten."""
        for pen in self.pens.values():
            for slot in SLOTS:
                lines = [("", feed, g) for feed, g in self.plan.lines(pen.id, slot, day)]
                lines += [(name, feed, g) for name in pen.does for feed, g in self.plan.lines(name, slot, day)]
                if pen.does and lines and self.rng.random() >= self.farm.habits.miss:
                    self.log.fed(pen.id, on(day), slot, *lines)

    def left_over(self, pen: Pen, day: int, share: float) -> None:
        """What she sees in the feeder at the next meal, on days she looks."""
        if self.rng.random() < self.farm.habits.looks_in_feeder:
            for slot in MEALS:
                if share > 0.12:
                    self.log.intake(pen.id, on(day), slot, "left_some", max(10, round(10 * share) * 10))
                elif share < 0.03 and pen.style == FLAKE:
                    self.log.intake(pen.id, on(day), slot, "ate_all")
