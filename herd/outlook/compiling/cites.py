"""What ran while a doe was compiled, as it goes on the wire: each citation a place in the list of all there are."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import lru_cache

from herd.science.base.citable import citable, mark, place_of
from herd.science.base.record import Ran

from ..shapes import Cites

AS_IS = "as_is"
# what no page of a phone takes apart stays here, so that an outlook is a tenth smaller
STAYS = ("limits", "phase", "plan.", "risk.", "condition.ahead", "me.doubt")
NO_CITES: Cites = {"of": "", "rules": {}, "terms": {}, "branches": {}}


def cites(ran: Mapping[str, Ran], rules: Mapping[str, int]) -> Cites:
    """The record of one doe.

    Parameters
    ----------
    ran : by branch; under "" what holds whichever branch does
    rules : herd rules in force
    """
    sent = {branch: _sent(terms) for branch, terms in ran.items()}
    heard = {name for terms in sent.values() for each in terms.values() for name in each}
    always = sent.pop("")
    return {
        "of": mark(),
        "rules": {name: rules[name] for name in sorted(heard) if name in rules},
        "terms": _listed(always),
        "branches": dict(_against_the_one_before(sent)),
    }


def _sent(ran: Ran) -> Ran:
    return {name: heard for name, heard in ran.items() if not name.startswith(STAYS)}


def cited(of: Cites, term: str, branch: str = AS_IS) -> list[str]:
    """Names of what ran for a term in a branch: equations, then parameters, then herd rules."""
    told = [*of["terms"].get(term, "").split(), *_of_branch(of, term, branch).split()]
    places = {place for part in told if part[0].isdigit() for place in _places(part)}
    return [*(citable()[place] for place in sorted(places)), *sorted({part for part in told if not part[0].isdigit()})]


def _of_branch(of: Cites, term: str, branch: str) -> str:
    told = ""
    for name in sorted(of["branches"]):
        told = of["branches"][name].get(term, told)
        if name == branch:
            return told
    return ""


def _places(part: str) -> range:
    first, _, last = part.partition("-")
    return range(int(first), int(last or first) + 1)


def _listed(ran: Ran) -> dict[str, str]:
    """Terms for which nothing ran are left out."""
    return {name: _told(frozenset(heard)) for name, heard in sorted(ran.items()) if heard}


@lru_cache(4096)
def _told(heard: frozenset[str]) -> str:
    """Places, runs of them as first-last, then herd rules, in an order that does not change from run to run.

    Kept, because the same runs for most does of a herd.
    """
    known, names = place_of(), sorted(heard)
    runs: list[list[int]] = []
    for place in sorted(known[name] for name in names if name in known):
        if runs and runs[-1][-1] == place - 1:
            runs[-1][-1] = place
        else:
            runs.append([place, place])
    places = [str(first) if first == last else f"{first}-{last}" for first, last in runs]
    return " ".join([*places, *(name for name in names if name not in known)])


def _against_the_one_before(branches: Mapping[str, Ran]) -> Iterable[tuple[str, dict[str, str]]]:
    """In alphabetical order; a term that ran in the one before and not here stands with nothing in it."""
    before: dict[str, str] = {}
    for branch in sorted(branches):
        here = _listed(branches[branch])
        yield branch, {t: here.get(t, "") for t in sorted({*here, *before}) if here.get(t) != before.get(t)}
        before = here
