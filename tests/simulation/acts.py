"""Acts offered, followed to the letter, and what the phone says for four weeks after."""

from __future__ import annotations

from collections.abc import Iterable
from copy import deepcopy
from dataclasses import dataclass, field
from multiprocessing import get_context
from typing import Any

from .anyway import heard_anyway
from .barn import live_day
from .days import WARM_UP_D, day_of, on
from .diet import STAYS, Move
from .keeper import Keeper
from .limits import Broken, broken
from .measure import FAT, LATE_GEST, RUN_D, SHORT_CODES, THIN_CODES
from .phone import Phone
from .plan import Steps
from .rows import short_days, state_of, true_pm
from .sample import DOES, Pen, farm
from .search import safe_act
from .truth.goat import Goat

ASKED, FOLLOWED_D, FROM_D = 4, 28, 7
UP, DOWN = "up", "down"
# The phone says that what is planned already answers it: followed by doing nothing else.
HER_PLAN = "her plan"
# Which words are about what, and which way; the first of each row is what an act answers.
WORDS = {
    ("me", UP): SHORT_CODES,
    ("me", DOWN): ("energy_over", "energy_heading_over", "condition_fat"),
    ("ca", UP): ("calcium_short", "calcium_heading_short"),
    ("ca", DOWN): ("calcium_over", "calcium_heading_over"),
    ("cp", UP): ("protein_short",),
    ("p", UP): ("phosphorus_short",),
}
CONDITION = (*THIN_CODES, "condition_fat")
LIMITS = ("grain_meal_big", "grain_day_big", "step_big", "step_planned_big", "steps_too_fast", "grain_share_big")
# What a penmate must not come to hear within a fortnight who did not hear it before.
OUT, MATES_D = {"energy_over", "net_cut_late", "energy_short", "calcium_over", "forage_low", *LIMITS}, 14
OF_WORD = {word: way for way, words in WORDS.items() for word in words}
# An act aims so far into the band: what is sought is a little short of need, late her floor.
AIM, LEAST = 0.96, 0.03
# A thin doe fed so much beyond her need, a fat one so little under it, is on her way back already.
ON_HER_WAY = {UP: 1.08, DOWN: 0.96}


@dataclass(slots=True)
class Case:
    """One doe with a feed prompt on the evening she is asked about."""

    farm: str
    doe: str
    state: str
    code: str
    of: str
    way: str
    planned: bool
    shared: bool
    found: str
    offered: list[str]
    by_plan: bool = False
    act: str = ""
    brings: tuple[int, int] = (0, 0)
    broke: list[tuple[str, Broken]] = field(default_factory=list)
    followed: bool = False
    last_step: int = 0
    said: list[str] = field(default_factory=list)
    true_pm: list[int] = field(default_factory=list)
    condition: float = 0.0
    past: list[str] = field(default_factory=list)
    pen: str = ""
    pen_g: list[int] = field(default_factory=list)
    mates: dict[str, str] = field(default_factory=dict)
    mates_out: list[tuple[str, str]] = field(default_factory=list)
    # Of her and of her mates: what is heard within the four weeks where nobody follows anything.
    anyway: set[tuple[str, str]] = field(default_factory=set)
    # Evenings from the first week on when she truly gets too little, five days running, and nothing says so.
    unsaid: int = 0


def run_farm(seed: int, number: int) -> list[Case]:
    keeper, phone, cases = Keeper(farm(seed, number)), Phone(), list[Case]()
    for day in range(-WARM_UP_D, ASKED + FOLLOWED_D + 1):
        live_day(keeper, day)
        if day < ASKED:
            continue
        said = phone.look(keeper.log.events, day, on(day))
        if day == ASKED:
            cases = asked(keeper, phone, said, day)
        for case in cases:
            follow_up(keeper, case, said, day)
    if any(case.mates_out or case.past for case in cases):
        heard = heard_anyway(seed, number, ASKED + 1, ASKED + FOLLOWED_D)
        for case in cases:
            case.anyway = heard
    return cases


def asked(keeper: Keeper, phone: Phone, said: dict[str, Any], day: int) -> list[Case]:
    """Every doe with a feed prompt; in each pen the first that is offered anything is the one that is followed."""
    cases, taken = list[tuple[Case, dict[str, Any]]](), set[str]()
    for doe in keeper.farm.does:
        result = said["does"][doe.name]
        code = result["prompt"]["code"] if result["prompt"] else ""
        if code in OF_WORD:
            acts = phone.ask("acts", doe.name)
            cases.append((case_of(keeper, phone, doe, day, result, code, acts), acts))
    # all are judged by the plan they were asked about, before any of them is followed
    for case, acts in cases:
        if case.by_plan:
            case.followed, case.act = True, HER_PLAN
            case.last_step = day_of(acts["by_plan"]) - day
        elif acts["offered"] and case.pen not in taken:
            taken.add(case.pen)
            follow(keeper, case, acts["offered"][0], day)
    keeper.left_alone |= {name for case, _ in cases for name in held(keeper, case)}
    return [case for case, _ in cases]


def held(keeper: Keeper, case: Case) -> set[str]:
    """Whose plan the keeper leaves as it is from now on: hers, her feeder's and her penmates', old and new."""
    return {name for pen in pens_of(keeper, case) for name in (pen.id, *pen.does)}


def pens_of(keeper: Keeper, case: Case) -> list[Pen]:
    """Where she was asked about, and where an act has moved her."""
    return [keeper.pens[pen] for pen in sorted({case.pen, keeper.pen_of[case.doe]} & set(keeper.pens))]


def case_of(
    keeper: Keeper, phone: Phone, doe: Goat, day: int, result: dict[str, Any], code: str, acts: dict[str, Any]
) -> Case:
    of, way = OF_WORD[code]
    gap = gap_of(phone, doe, day, result["lines"][of], code)
    case = Case(
        farm=keeper.farm.seed,
        doe=doe.name,
        state=state_of(doe, day),
        code=code,
        of=of,
        way=way,
        planned=keeper.plan.written,
        shared=len(keeper.pens[keeper.pen_of[doe.name]].does) > 1,
        found=safe_act(keeper, doe, day, of, gap),
        offered=[act["code"] for act in acts["offered"]],
        by_plan=bool(acts.get("by_plan")) and not acts["offered"],
        condition=doe.condition,
    )
    case.pen = keeper.pen_of[doe.name]
    for act in acts["offered"]:
        case.pen_g.append(into_pen(keeper, act))
        case.broke += [(act["code"], one) for one in act_breaks(keeper, doe, act, day)]
    return case


def gap_of(phone: Phone, doe: Goat, day: int, line: dict[str, Any], code: str) -> float:
    """How much a day she is to get more, less where negative, by the phone's own line; 0 where she is on her way."""
    of, way = OF_WORD[code]
    need, got = (line[part] / max(1, line["days"]) for part in ("need", "got"))
    if "heading" in code and (ahead := phone.ask("ahead_days", doe.name, of)[-1][1]):
        # what is said to come is lacked then, not today
        need, got = ahead["need"], ahead["got"]
    least = LEAST * need
    if code in CONDITION and (got < ON_HER_WAY[DOWN] * need if way == DOWN else got > ON_HER_WAY[UP] * need):
        return 0.0
    if way == DOWN:
        return -max(least, got - (1.4 if of == "ca" else 1.06) * need)
    compiled = phone.ask("compiled_on", doe.name, on(day)) or {}
    late = of == "me" and doe.gest(day) >= LATE_GEST and not in_danger(phone, doe.name)
    floor = compiled.get("floor_me_kj", 0) if late else 0
    return float(max(least, (1.03 * floor if floor else AIM * need) - got))


def in_danger(phone: Phone, name: str) -> bool:
    """With three kids, counted or reckoned, or very fat, the phone draws its line at need, late as early."""
    score = phone.ask("last_score", name) or {"x100": 0}
    return (phone.outlooks[name].get("who") or {}).get("litter_x100", 0) >= 250 or score["x100"] >= 400


def act_breaks(keeper: Keeper, doe: Goat, act: dict[str, Any], day: int) -> list[Broken]:
    """Of her and of all who share what the act changes."""
    after, move = deepcopy(keeper.plan.steps), move_of(act)
    for subject, slot, feed, steps in lines_of(act):
        key = (subject, slot, feed)
        after[key] = [step for step in after.get(key, []) if step[0] < steps[0][0]] + steps
    subjects = {keeper.pen_of[doe.name], *(line["subject"] for line in act["lines"])}
    pens, touched = subjects & set(keeper.pens), {doe.name, *subjects} & set(keeper.pen_of)
    if move != STAYS or any(line["subject"] in keeper.pens for line in act["lines"]):
        touched |= {name for pen in pens for name in keeper.pens[pen].does}
    found = list[Broken]()
    for name in sorted(touched):
        found += broken(keeper, keeper.doe(name), keeper.plan.steps, after, day + 1, move)
    return found


def move_of(act: dict[str, Any]) -> Move:
    return (act["moves"]["doe"], act["moves"]["pen"]) if act.get("moves") else STAYS


def into_pen(keeper: Keeper, act: dict[str, Any]) -> int:
    """Grams a day more an act puts into a feeder in the end, less where negative; what leaves with a doe is neither."""
    if act.get("moves"):
        return 0
    return sum(
        steps[-1][1] - keeper.plan.grams(subject, slot, feed, steps[0][0])
        for subject, slot, feed, steps in lines_of(act)
        if subject in keeper.pens
    )


def against(cases: list[Case]) -> list[tuple[str, str]]:
    """Feeders that one doe's foremost act fills and another's empties."""
    ways = dict[tuple[str, str], set[bool]]()
    for case in cases:
        if case.shared and case.pen_g and case.pen_g[0]:
            ways.setdefault((case.farm, case.pen), set()).add(case.pen_g[0] > 0)
    return [pen for pen, found in ways.items() if len(found) > 1]


def lines_of(act: dict[str, Any]) -> list[tuple[str, str, str, Steps]]:
    """The lines as days and grams. On the day it ends somebody looks again; one tap writes no more than its steps."""
    found = []
    for line in act["lines"]:
        steps = [(day_of(date), g) for date, g in line["steps"]]
        found.append((line.get("subject", act["subject"]), line["slot"], line["feed"], steps))
    return found


def follow(keeper: Keeper, case: Case, act: dict[str, Any], day: int) -> None:
    """To the letter, through the phone's door."""
    case.followed, case.act, brings = True, act["code"], act["brings"]
    case.brings = (brings["from_pm"], brings["to_pm"])
    keeper.plan.written = True
    if act.get("moves"):
        # once today's meals are over
        keeper.move(*move_of(act), day + 1)
    for subject, slot, feed, steps in lines_of(act):
        to = "pen" if subject in keeper.pens else "doe"
        keeper.plan.enter(to, subject, slot, feed, steps, day, act=act["code"], **brings)
        case.last_step = max([case.last_step, *(start - day for start, g in steps)])


def follow_up(keeper: Keeper, case: Case, said: dict[str, Any], day: int) -> None:
    doe = keeper.doe(case.doe)
    if not case.followed or ASKED < kidding(doe) <= day:
        # a doe that has kidded is another matter
        return
    code = word_of(said, case.doe)
    case.said.append(code)
    mates = [name for pen in pens_of(keeper, case) for name in pen.does if name != case.doe]
    if day == ASKED:
        case.mates = {name: word_of(said, name) for name in mates}
    elif day <= ASKED + MATES_D:
        heard = [(name, word_of(said, name)) for name in mates]
        case.mates_out += [(name, word) for name, word in heard if word in OUT - {case.mates.get(name)}]
    case.true_pm.append(true_pm(doe, day))
    if day <= ASKED:
        return
    if day >= ASKED + FROM_D and code not in SHORT_CODES and doe.condition < FAT:
        case.unsaid += short_days(doe, day + WARM_UP_D) >= RUN_D
    other = DOWN if case.way == UP else UP
    if code in WORDS.get((case.of, other), ()) and code not in CONDITION:
        case.past.append(f"told {code}")
    if case.of == "me" and case.way == UP and case.true_pm[-1] > 1150 and doe.condition >= FAT:
        case.past.append("truly over")
    if code in (*LIMITS, "forage_low", "ca_p_low"):
        case.past.append(f"told {code}")


def kidding(doe: Goat) -> int:
    kids = doe.kids_on()
    return -1 if kids is None else kids


def word_of(said: dict[str, Any], name: str) -> str:
    return str((said["does"][name]["prompt"] or {"code": ""})["code"])


def run_acts(seeds: Iterable[int], does: int, cores: int = 1) -> list[Case]:
    jobs = [(seed, number) for seed in seeds for number in range(-(-does // DOES))]
    if cores < 2:
        return [case for job in jobs for case in run_farm(*job)]
    with get_context("spawn").Pool(cores) as pool:
        return [case for cases in pool.starmap(run_farm, jobs, chunksize=1) for case in cases]


def quiet(case: Case, until: int = FOLLOWED_D) -> bool:
    """None of the words of that nutrient and way from a week on, its own steps' days apart."""
    first = max(FROM_D, case.last_step)
    return not any(code in WORDS[case.of, case.way] for code in case.said[first : until + 1])


def only_condition(case: Case) -> bool:
    """What is left is a score out of her band, and it was before."""
    left = {code for code in case.said[max(FROM_D, case.last_step) :] if code in WORDS[case.of, case.way]}
    return left <= set(CONDITION) and (case.condition < 2.75 or case.condition >= FAT)
