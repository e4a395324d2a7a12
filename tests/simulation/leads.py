"""Lead times: does fed level whose feed falls, or whose milk rises, and how long before or after truth it is named."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from random import Random
from statistics import median

from .barn import live_day
from .days import LOOKED_D, WARM_UP_D, on
from .keeper import Keeper
from .measure import SHORT_CODES
from .phone import Phone
from .rows import could_kj
from .sample import FLAKE, GOOD, SHORT, Farm, Pen, barn, habits
from .truth.goat import Goat, Land, goat, land

FALL, TO_75, TO_65, MILK = "falls 1 % a day", "step to 75 %", "step to 65 %", "milk rising"
STATES = ("dry, early", "dry, late", "in milk", "first", "thin", "fat, late")
SCENARIOS = {FALL: STATES, TO_75: STATES, TO_65: STATES, MILK: ("fresh",)}
ENTERED, AHEAD_D = 3, 7
LAST = {FALL: 34, TO_75: LOOKED_D, TO_65: LOOKED_D, MILK: 40}
SMOOTH_D = 3


@dataclass(frozen=True, slots=True)
class Lead:
    """Days of the run, NEVER where it did not come; `passed`: of what she can eat to; `step`: of a planned step."""

    scenario: str
    state: str
    named: int
    code: str
    step: int
    passed_90: int
    passed_85: int


NEVER = 99


def lead_farm(seed: int, number: int, scenario: str, state: str) -> Farm:
    rng = Random(f"lead|{seed}|{number}|{state}")
    ground, how, feeds = land(rng), habits(rng), barn(rng)
    how.plans, how.eye = True, 1.0
    doe = lead_doe(rng, ground, state)
    share = rng.uniform(0.3, 0.6) if state in ("in milk", "fresh") else rng.uniform(0, 0.3)
    pen = Pen("pen", [doe.name], GOOD, FLAKE, "hay", share, 1.0, -99, 0.0, 1.2)
    return Farm(f"lead|{seed}|{number}|{scenario}|{state}", ground, how, feeds, [doe], [pen])


def lead_doe(rng: Random, ground: Land, state: str) -> Goat:
    mini = rng.random() < 0.45
    mature = rng.uniform(28, 44) if mini else rng.uniform(45, 85)
    condition = {"thin": rng.uniform(2.0, 2.5), "fat, late": rng.uniform(3.6, 4.3)}.get(state, rng.uniform(2.7, 3.3))
    made = goat(rng, ground, "doe", "mini" if mini else "standard", state == "first", mature, condition)
    late = state in ("dry, late", "fat, late") or (state in ("thin", "first") and rng.random() < 0.5)
    if state == "fresh":
        made.bred = -made.carried_d - rng.randint(1, 4)
    elif state == "in milk":
        made.bred = -made.carried_d - rng.randint(35, 110)
    else:
        made.bred = -rng.randint(101, 112) if late else -rng.randint(25, 70)
    return made


def run_lead(seed: int, number: int, scenario: str, state: str) -> Lead:
    keeper, phone = Keeper(lead_farm(seed, number, scenario, state)), Phone()
    doe, codes = keeper.farm.does[0], list[str]()
    # level by her need alone, thin or fat
    keeper.by_condition = 0
    for day in range(-WARM_UP_D, LAST[scenario]):
        if day >= 0:
            CHANGES[scenario](keeper, day)
        live_day(keeper, day)
        if day >= 0:
            prompt = phone.look(keeper.log.events, day, on(day))["does"][doe.name]["prompt"]
            codes.append(prompt["code"] if prompt else "")
            keeper.heard(doe.name, codes[-1], day)
    named = next((day for day, code in enumerate(codes) if code in SHORT_CODES), NEVER)
    step = ENTERED + AHEAD_D if scenario in (TO_75, TO_65) else NEVER
    code = codes[named] if named < NEVER else ""
    return Lead(scenario, state, named, code, step, passes(doe, 900), passes(doe, 850))


def passes(doe: Goat, pm: int) -> int:
    """First day of the run on which three days together stand under that share of what she can eat to."""
    for k in range(WARM_UP_D, len(doe.eaten_kj)):
        span = range(k - SMOOTH_D + 1, k + 1)
        if 1000 * sum(doe.eaten_kj[i] for i in span) < pm * sum(could_kj(doe, i) for i in span):
            return k - WARM_UP_D
    return NEVER


def falls(keeper: Keeper, day: int) -> None:
    pen = keeper.pens["pen"]
    pen.regime, pen.factor = SHORT, 1 - 0.01 * day
    keeper.fill(pen, day, 10, 0.0)


def steps_to(share: float) -> Callable[[Keeper, int], None]:
    def change(keeper: Keeper, day: int) -> None:
        if day == ENTERED:
            hold(keeper)
            for (subject, slot, feed), steps in list(keeper.plan.steps.items()):
                to = "pen" if subject in keeper.pens else "doe"
                later = [(day + AHEAD_D, round(share * steps[-1][1] / 5) * 5)]
                if steps[-1][1]:
                    keeper.plan.enter(to, subject, slot, feed, later, day)

    return change


def holds(keeper: Keeper, day: int) -> None:
    if day == 0:
        hold(keeper)


def hold(keeper: Keeper) -> None:
    """Nothing else is changed from now on."""
    keeper.left_alone |= {*keeper.pens, *(doe.name for doe in keeper.farm.does)}


CHANGES = {FALL: falls, TO_75: steps_to(0.75), TO_65: steps_to(0.65), MILK: holds}


def run_leads(seeds: Iterable[int], each: int) -> list[Lead]:
    return [
        run_lead(seed, number, scenario, state)
        for seed in seeds
        for scenario, states in SCENARIOS.items()
        for state in states
        for number in range(each if len(states) > 1 else 3 * each)
    ]


def lead_table(leads: list[Lead]) -> str:
    """Of does whose feed truly passes 90 %: days before (+) or after (-), the middle of those named."""
    title = f"(2) {'days named before (+) or after (-) truth passes':46}"
    lines = [
        f"\n{title}{'does':>6}{'never':>6}{'day 0':>6}{'90 %':>6}{'85 %':>6}{'by 90 %':>16}{'by 85 % or the step':>24}"
    ]
    lines.append("-" * 118)
    for scenario, states in SCENARIOS.items():
        for state in (*states, "all") if len(states) > 1 else states:
            mine = [one for one in leads if one.scenario == scenario and state in (one.state, "all")]
            mine = [one for one in mine if one.passed_90 < NEVER]
            if mine:
                lines.append(f"{scenario + ', ' + state:50}{row_of(mine)}")
    return "\n".join(lines)


def row_of(mine: list[Lead]) -> str:
    told = [one for one in mine if one.named < NEVER]
    lower = [one for one in mine if one.passed_85 < NEVER or one.step < NEVER]
    by_90 = sum(one.named <= one.passed_90 for one in told)
    by_85 = sum(one.named < one.step if one.step < NEVER else one.named <= one.passed_85 for one in lower)
    middle = [middle_of(o.passed_90 - o.named for o in told), ""]
    middle[1] = middle_of(o.passed_85 - o.named for o in told if o.passed_85 < NEVER)
    early = sum(one.named == 0 for one in told)
    shares = [f"{k:5} /{n:4}{100 * k / max(1, n):5.0f} %" for k, n in ((by_90, len(mine)), (by_85, len(lower)))]
    start = f"{len(mine):6}{len(mine) - len(told):6}{early:6}{middle[0]:>6}{middle[1]:>6}"
    return f"{start}{shares[0]:>16}{shares[1]:>24}"


def middle_of(days: Iterable[int]) -> str:
    """The middle one as text; "-" of none."""
    days = list(days)
    return f"{median(days):+.0f}" if days else "-"
