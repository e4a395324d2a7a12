"""Two people write down the same thing where neither has a signal: both are kept, one question stands on both phones,
the careful one counts meanwhile, and one tap settles it for both."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date, timedelta

import pytest
from playwright.sync_api import Locator, expect

from tests.browser.barn import Barn
from tests.browser.places import visit
from tests.browser.screen import Screen
from tests.browser.two_phones import apart, together
from tests.support.words import like, say

pytestmark = [pytest.mark.browser, pytest.mark.timeout(240)]
DRENCH = "What the vet brought"


@pytest.fixture
def pair(another: Callable[..., Screen], barn: Barn) -> tuple[Screen, Screen]:
    return another("Jory").controlled(), another("Mirrin").controlled()


def card(screen: Screen, title: str) -> Locator:
    return screen.page.locator(".card", has=screen.page.get_by_role("heading", name=title, exact=True))


def settled(title: str, at: Callable[[Screen], object], by: Screen, *others: Screen) -> None:
    """The question stood once on each, one tap of one of them has settled it, and the others hear so."""
    for screen in (by, *others):
        at(screen)
        expect(card(screen, title)).to_have_count(1)
    card(by, title).get_by_role("button").first.click()
    expect(card(by, title)).to_have_count(0)
    together(by, *others)
    for screen in (by, *others):
        at(screen)
        expect(screen.page.get_by_role("main")).to_be_visible()
        expect(card(screen, title)).to_have_count(0)


def born(screen: Screen, name: str, on: date) -> None:
    screen.doe(name)
    screen.link(say("doe.record", name=name)).click()
    screen.link(say("rec.edit")).click()
    screen.page.locator("main details summary", has_text=say("more")).click()
    screen.page.get_by_label(say("f.born_on"), exact=True).fill(on.isoformat())
    screen.button(say("save")).click()
    screen.saved()


def treated(screen: Screen, name: str, milk_until: date) -> None:
    screen.form(name, "treatment")
    screen.page.get_by_label(say("f.given"), exact=True).fill(DRENCH)
    screen.page.get_by_label(say("o.who.vet"), exact=True).check()
    screen.page.get_by_label(say("f.milk_until"), exact=True).fill(milk_until.isoformat())
    screen.button(say("treat.save")).click()
    screen.at(name)


def kidded(screen: Screen, name: str, on: date) -> None:
    screen.form(name, "kidded")
    for field in ("f.born", "f.alive"):
        screen.page.get_by_role("group", name=say(field)).get_by_text("2", exact=True).click()
    screen.page.get_by_label(say("f.on"), exact=True).fill(on.isoformat())
    screen.button(say("save")).click()
    screen.at(like("kids"))


def dried(screen: Screen, name: str, on: date) -> None:
    screen.form(name, "dried_off")
    screen.page.get_by_label(say("f.on"), exact=True).fill(on.isoformat())
    screen.button(say("save")).click()
    screen.at(name)


def served(screen: Screen, name: str, on: date) -> None:
    screen.form(name, "bred")
    screen.page.get_by_label(say("f.bred_on"), exact=True).fill(on.isoformat())
    screen.button(say("save")).click()
    screen.at(name)


def told(screen: Screen, barn: Barn, words: str) -> None:
    shelf = next(event for event in barn.log() if event["kind"] == "shelf")
    visit(screen, f"shelf/{shelf['data']['f']['card']}/{shelf['subject']}")
    screen.page.get_by_label(say("f.told"), exact=True).fill(words)
    screen.button(say("save")).click()
    screen.saved()


def test_what_two_did_apart_is_one_question_on_both_phones_until_one_of_them_answers(
    barn: Barn, pair: tuple[Screen, Screen]
) -> None:
    jory, mirrin = pair
    today, before = date.fromisoformat(barn.log()[-1]["on"]), len(barn.log())
    apart(jory, mirrin)
    for n, screen in enumerate(pair):
        evening(screen)
        screen.as_planned("Parlour side")
        screen.saved()
        born(screen, "Bramble", date(2021, 3, 1 + n))
        treated(screen, "Juniper", today + timedelta(days=5 + 4 * n))
        kidded(screen, "Wren", today - timedelta(days=1 + n))
        dried(screen, "Tansy", today - timedelta(days=2 + 3 * n))
        served(screen, "Hazel", today - timedelta(days=1 + 2 * n))
    together(jory, mirrin)
    kinds = ("fed", "doe", "treatment", "kidded", "dried_off", "bred")
    assert barn.added(before, *kinds) == sorted(kinds * 2), "both are kept"
    assert barn.refused() == 0

    for screen in pair:
        screen.doe("Juniper")
        expect(screen.page.locator(".hold").first).to_contain_text(str((today + timedelta(days=9)).day))
        screen.doe("Wren")
        expect(card(screen, say("q.kidded_twice", name="Wren"))).to_contain_text(say("q.kidded_twice.why"))
        visit(screen, "questions")
        expect(card(screen, say("q.field", name="Bramble", field=say("f.born_on")))).not_to_contain_text("2021-03")
        evening(screen)
        expect(card(screen, fed_twice())).to_contain_text(say("q.fed_twice.why"))

    settled(fed_twice(), evening, mirrin, jory)
    settled(say("q.field", name="Bramble", field=say("f.born_on")), at("Bramble"), jory, mirrin)
    for doe, asked in (("Juniper", "q.treated_twice"), ("Wren", "q.kidded_twice")):
        hers = card(mirrin.doe(doe), say(asked, name=doe))
        expect(hers).to_contain_text(say("plans.who"))
        expect(hers.get_by_role("button"), "one of the two is not her own entry").to_have_count(0)
    settled(say("q.treated_twice", name="Juniper"), at("Juniper"), jory, mirrin)
    of_a_day = card(jory.doe("Wren"), say("q.kidded_twice", name="Wren")).get_by_role("button")
    assert len(set(of_a_day.all_inner_texts())) == 2, "two dates are told apart"
    settled(say("q.kidded_twice", name="Wren"), at("Wren"), jory, mirrin)
    for doe, asked in (("Tansy", "q.dried_twice"), ("Hazel", "q.bred_twice")):
        settled(say(asked, name=doe), at(doe), jory, mirrin)
    for screen in pair:
        visit(screen, "questions")
        expect(screen.page.get_by_text(say("q.none"))).to_be_visible()


def evening(screen: Screen) -> None:
    screen.chores("evening")


def fed_twice() -> str:
    return say("q.fed_twice", slot=say("in_slot.evening"))


def at(doe: str) -> Callable[[Screen], object]:
    return lambda screen: screen.doe(doe)


def test_who_may_not_settle_a_question_is_shown_no_button(barn: Barn, another: Callable[..., Screen]) -> None:
    owner, jory = another("Odette", "Tumblegate").controlled(), another("Jory").controlled()
    apart(owner, jory)
    told(owner, barn, "Ring me before you give any of it.")
    told(jory, barn, "Half of what the label says.")
    together(owner, jory)
    helper = another("Mirrin")
    visit(helper, "questions")
    for screen in (owner, jory, helper):
        visit(screen, "questions")
        asked = screen.page.locator(".card", has_text="Ring me before")
        expect(asked).to_contain_text("Half of what the label says.")
        expect(asked.get_by_role("button")).to_have_count(0 if screen is helper else 2)
    expect(helper.page.locator(".card", has_text="Ring me before")).to_contain_text(say("plans.who"))
    owner.button(re.compile("Ring me before")).click()
    together(owner, helper)
    visit(helper, "questions")
    expect(helper.page.get_by_role("main")).to_be_visible()
    expect(helper.page.locator(".card", has_text="Ring me before")).to_have_count(0)
