"""The part of the table about acts: offered where there is one, followed, and what they break."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from .acts import FOLLOWED_D, FROM_D, WORDS, Case, against, only_condition, quiet
from .measure import Share
from .report import head, le, line


def acts_table(cases: list[Case]) -> str:
    parts = [head("(1a) an act offered where one was found", "offered", "does"), *of_offered(cases)]
    # those that kid within the week show nothing
    cases_on = [case for case in cases if case.followed and len(case.said) > FROM_D]
    followed = [case for case in cases_on if not case.by_plan]
    parts += [
        head("followed to the letter, no such word from day 7 to 28", "quiet", "followed"),
        *of_followed(followed),
    ]
    parts += [head("(d) acts past a limit", "acts", "of acts"), *of_limits(cases)]
    return "\n".join(parts)


def least(value: float) -> bool:
    return value >= 95


def of_offered(cases: list[Case]) -> list[str]:
    found = [case for case in cases if case.found]
    lines = [line("does with a feed prompt, a safe act found", Share(len(found), len(cases)))]
    lines.append(line("of these, one is offered, or her plan is said to do", share(found), ">= 95 %", least))
    planned = [case for case in found if case.planned]
    lines.append(line("  where the farm keeps its plan on the phone", share(planned), ">= 95 %", least))
    lines.append(
        line("  where meals are only tapped, with no plan", share([case for case in found if not case.planned]))
    )
    for (of, way), words in WORDS.items():
        mine = [case for case in found if (case.of, case.way) == (of, way)]
        lines.append(line(f"  {words[0]} and its like", share(mine)))
    for name, some in (("  alone at her feeder", False), ("  at a shared feeder", True)):
        lines.append(line(name, share([case for case in found if case.shared == some])))
    beyond = [case for case in cases if not case.found]
    lines.append(line("offered where none was found", share(beyond)))
    lines.append("  " + most_common(f"{case.code} by {case.offered[0]}" for case in beyond if case.offered))
    missed = [case for case in found if not answered(case) and case.planned]
    lines.append("  not offered: " + most_common(f"{case.code} by {case.found}" for case in missed))
    return lines


def share(cases: list[Case]) -> Share:
    return Share(sum(answered(case) for case in cases), len(cases))


def answered(case: Case) -> bool:
    return bool(case.offered) or case.by_plan


def of_followed(followed: list[Case]) -> list[str]:
    lines = [line("quiet to day 28", told(followed), ">= 90 %", lambda x: x >= 90)]
    rest = [case for case in followed if quiet(case) or not only_condition(case)]
    lines.append(line("  those apart whose score alone still speaks", told(rest)))
    lines.append(line("  to day 14", Share(sum(quiet(case, 14) for case in followed), len(followed))))
    for (of, way), words in WORDS.items():
        lines.append(line(f"  {words[0]} and its like", told([c for c in followed if (c.of, c.way) == (of, way)])))
    for code, mine in sorted(by_act(followed).items()):
        lines.append(line(f"  by {code}", told(mine)))
    lines.append("  said instead: " + most_common(last_word(case) for case in followed if not quiet(case)))
    unsaid = sum(case.unsaid > FROM_D for case in followed)
    lines.append(line("  truly too little for more than a week, and nothing says so", Share(unsaid, len(followed))))
    past = [case for case in followed if case.past]
    lines.append(line("pushed over, or past a limit", Share(len(past), len(followed)), "none", le(0)))
    lines.append("  " + most_common(what for case in past for what in set(case.past)))
    by_it = [case for case in past if brought(case)]
    lines.append(line("  of these, not so where nothing is followed", Share(len(by_it), len(followed))))
    out = [case for case in followed if case.mates_out]
    sharing = [case for case in followed if case.mates]
    lines.append(line("a penmate put out within 14 days", Share(len(out), len(sharing)), "none", le(0)))
    lines.append("  " + most_common(what for case in out for _, what in set(case.mates_out)))
    by_it = [case for case in out if set(case.mates_out) - case.anyway]
    lines.append(line("  of these, not so where nothing is followed", Share(len(by_it), len(sharing))))
    return lines


def brought(case: Case) -> set[str]:
    """What the act brought on her: that she is truly over, and words she does not hear without it."""
    return set(case.past) - {f"told {word}" for name, word in case.anyway if name == case.doe}


def most_common(words: Iterable[str]) -> str:
    return ", ".join(f"{what} {n}" for what, n in Counter(words).most_common(8))


def told(cases: list[Case]) -> Share:
    return Share(sum(quiet(case) for case in cases), len(cases))


def by_act(cases: list[Case]) -> dict[str, list[Case]]:
    found = dict[str, list[Case]]()
    for case in cases:
        found.setdefault(case.act, []).append(case)
    return found


def last_word(case: Case) -> str:
    return next(code for code in reversed(case.said[: FOLLOWED_D + 1]) if code in WORDS[case.of, case.way])


def of_limits(cases: list[Case]) -> list[str]:
    acts = sum(len(case.offered) for case in cases)
    broke = {(n, code) for n, case in enumerate(cases) for code, one in case.broke}
    lines = [line("acts that break a limit", Share(len(broke), acts), "none", le(0))]
    limits = Counter((one.limit, code) for case in cases for code, one in case.broke)
    pens = {(case.farm, case.pen) for case in cases if case.shared and case.offered}
    lines.append(
        line("(e) feeders one act fills and another empties", Share(len(against(cases)), len(pens)), "none", le(0))
    )
    lines += [line(f"  {limit}, by {code}", Share(n, acts)) for (limit, code), n in limits.most_common(12)]
    return lines


def shown_cases(cases: list[Case]) -> str:
    """One line for each act missed, broken or not quiet."""
    parts = ["\nfound and not offered"]
    parts += [f"{which(case)}  by {case.found}" for case in cases if case.found and not answered(case) and case.planned]
    parts.append("\npast a limit")
    for case in cases:
        for code, one in case.broke:
            parts.append(f"{which(case)}  {code}: {one.limit} {one.after:.2f}, at most {one.most:.2f}, day {one.day}")
    parts.append("\nfollowed and not quiet, pushed over, or a penmate put out")
    for case in cases:
        if case.followed and (not quiet(case) or case.past or case.mates_out):
            words = (
                {code for code in case.said[7:] if code in WORDS[case.of, case.way]}
                | set(case.past)
                | {f"{name} {word}" for name, word in case.mates_out}
            )
            parts.append(f"{which(case)}  {case.act} {case.brings[0]} to {case.brings[1]}: {', '.join(sorted(words))}")
    return "\n".join(parts)


def which(case: Case) -> str:
    at = "shared" if case.shared else "alone"
    return f"{case.farm:8} {case.doe}  {case.state:17} at {case.condition:.2f} {at:6} {case.code:22}"
