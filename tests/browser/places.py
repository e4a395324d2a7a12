"""Every screen of the app, by the address it has on the demo farm."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from playwright.sync_api import Page, expect

from tests.browser.barn import Barn, subject
from tests.browser.lately import is_new, lately
from tests.browser.screen import UNFOLD, Screen
from tests.support.thorough import THOROUGH
from tests.support.words import say, spoken

LOOKS = ("udder", "score", "signs", "checkup", "weight", "milk", "got_into", "note")
STATES = ("bred", "heat", "preg_check", "moved", "dried_off", "kidded", "left_herd", "wont_eat")
NUTRIENTS = ("me", "cp", "ca", "p")
REFERENCE = (
    "",
    "needs.maintenance",
    "eq/needs.pregnancy.pregnancy_energy_afrc1993",
    "rules",
    "feeds",
    "sources",
    "distances",
)
RULES = ("rules", *(f"rules/{group}" for group in ("units", "dates", "bands", "scores", "feed", "health", "need")))
PEOPLE = ("people/invite", *(f"people/invite/{role}" for role in ("owner", "family", "helper", "adviser")))
OWNERS = (*PEOPLE, "people/aside", "people/audit")
ME = ("me", *(f"me/{page}" for page in ("notices", "password", "code", "mail", "keys", "pin", "places")))
DOORS, LEAVING = ("new", "join", "forgot", "step"), ("take", "forget", "close")
LISTS = ("pens", "order", "lots", "feeds", "card", "weather", *RULES, "people", "may", "about", "leave")
WITH_NEW = ("scoops", "jars", "sitter", "kit")
KEPT = (*WITH_NEW, *(f"{place}/new" for place in WITH_NEW), "treatments", "kit/count")
CARDS = (
    *("hard_kidding", "milk_fever", "toxemia", "bloat", "cold_kid"),
    *("mastitis", "placenta", "listeria", "abortion", "stones", "prolapse"),
)
NEW = ("doe/new", "pens/new", "lots/new", "feeds/new", "lots/new/lab", "feeds/mineral", "feeds/sprouts", "card/water")
SETUP = ("units", "pens", "hay", "grain", "name", "done")
YEAR = ("", "calendar", "glance", "own", "own/new", "link")
SHEET = "how she ate"


def addresses(barn: Barn) -> dict[str, str]:
    """{name: what stands after #/}, without the sheet and the sign-in page, which have no address."""
    doe, pen = subject(barn, "doe", "Teasel"), subject(barn, "pen", "Straw barn")
    pack = subject(barn, "pack", "The weekend at the lake")
    of_doe = {f"doe {form}": f"doe/{doe}/{form}" for form in ("record", "edit", "pictures", *LOOKS, *STATES)}
    of_farm = {f"farm {place}": f"farm/{place}" for place in (*LISTS, *KEPT, *NEW, "people/leave", *ME)}
    return {
        "chores": "",
        **{f"year {page}": f"year/{page}".rstrip("/") for page in YEAR},
        "does": "does",
        "due": "due",
        "watch": "watch",
        "doe": f"doe/{doe}",
        "doe in trouble": f"doe/{subject(barn, 'doe', 'Marigold')}",
        "doe with little": f"doe/{subject(barn, 'doe', 'Sedge')}",
        **of_doe,
        "doe buck_out": f"doe/{subject(barn, 'doe', 'Fennel')}/buck_out",
        "doe with the buck": f"doe/{subject(barn, 'doe', 'Fennel')}",
        "back": "back",
        "doe back": f"doe/{subject(barn, 'doe', 'Hazel')}/back",
        **days_after(barn),
        "doe kids": f"doe/{subject(barn, 'doe', 'Hazel')}/kids",
        **{f"doe {stretch}": f"doe/{doe}/{stretch}" for stretch in ("dry", "close_up")},
        "doe fresh": f"doe/{subject(barn, 'doe', 'Hazel')}/fresh",
        **{f"doe why {nutrient}": f"doe/{doe}/why/{nutrient}" for nutrient in NUTRIENTS},
        "doe why with little": f"doe/{subject(barn, 'doe', 'Sedge')}/why/me",
        **{f"reference {place}": f"reference/{place}" for place in REFERENCE},
        "bring": "bring",
        "reference feed": "reference/feed/alfalfa_hay_mid",
        "ration of a doe": f"ration/{doe}",
        "ration of a pen": f"ration/{pen}",
        "fed": f"pen/{pen}/fed",
        "off feed": f"doe/{subject(barn, 'doe', 'Marigold')}/off",
        "treatment": f"doe/{doe}/treatment",
        **{f"setup {step}": f"setup/{step}" for step in SETUP},
        "setup answer": f"setup/answer/{doe}",
        "setup score": f"setup/score/{doe}",
        "who": "who",
        **{f"door {door}": door for door in DOORS},
        "shared": "shared",
        "pending": "pending",
        "questions": "questions",
        "farms": "farms",
        "farm": "farm",
        "farm pen": f"farm/pens/{pen}",
        **of_farm,
        **{f"pack {page}": f"farm/sitter/{pack}/{page}".rstrip("/") for page in ("", "edit", "print")},
        **measures(barn),
        **emergency(barn),
        **lately(barn),
    }


def days_after(barn: Barn) -> dict[str, str]:
    """The night by its page, and what comes after it."""
    return {"doe night": f"doe/{subject(barn, 'doe', 'Hazel')}/night", "kids": "kids", "milk": "milk"}


def owners() -> dict[str, str]:
    """What only an owner is shown; others are told why not."""
    return {f"owner {place}": f"farm/{place}" for place in ("people", *OWNERS, *LEAVING)}


def sitters(barn: Barn) -> dict[str, str]:
    """What her home leads to whoever goes by a pack, where that is drawn otherwise for her, and what is closed."""
    fed, ill = subject(barn, "doe", "Juniper"), subject(barn, "doe", "Marigold")
    return {
        "sitter doe": f"doe/{fed}",
        "sitter doe in trouble": f"doe/{ill}",
        "sitter record": f"doe/{fed}/record",
        "sitter off feed": f"doe/{ill}/off",
        "sitter fed": f"pen/{subject(barn, 'pen', 'Straw barn')}/fed",
        "sitter emergency": "emergency",
        "sitter me": "farm/me",
        "sitter closed": "farm",
    }


def measures(barn: Barn) -> dict[str, str]:
    """A scoop that is old, one that is fresh, and a lot of hay on the scale."""
    old, fresh = (subject(barn, "scoop", name) for name in ("Blue scoop", "Tin cup"))
    lot, mix = subject(barn, "lot", "Meadow hay, July"), subject(barn, "feed", "Stand mix")
    return {
        "scoop old": f"farm/scoops/{old}",
        "scoop fresh": f"farm/scoops/{fresh}",
        "scoop weigh": f"farm/scoops/{fresh}/weigh",
        "lot": f"farm/lots/{lot}",
        "lot weights": f"farm/lots/{lot}/weights",
        "lot flake": f"farm/lots/{lot}/flake",
        "lot bale": f"farm/lots/{lot}/bale",
        "ration held": f"ration/{subject(barn, 'doe', 'Bramble')}/morning/{mix}",
    }


def emergency(barn: Barn) -> dict[str, str]:
    """The cards and what belongs to them."""
    doe = subject(barn, "doe", "Marigold")
    return {
        "emergency": "emergency",
        "barn card": "barn_card",
        **{f"emergency {card}": f"emergency/{card}" for card in CARDS},
        "emergency for a doe": f"emergency/toxemia/{doe}",
        "shelf": "shelf/toxemia/new",
        "contacts": "farm/contacts",
        "contacts new": "farm/contacts/new",
        "vet pick": "vet",
        "vet": f"doe/{doe}/vet",
        "vet with little": f"doe/{subject(barn, 'doe', 'Sedge')}/vet",
    }


def visit(screen: Screen, address: str) -> None:
    """Go there within the open app, and wait until it is painted."""
    screen.page.evaluate(GO, address)
    expect(screen.page.get_by_role("heading", level=1)).to_be_visible()
    screen.page.evaluate(PAINTED)


def unfold(page: Page) -> None:
    """Everything on it open."""
    page.locator("main details").evaluate_all("(all) => all.forEach((at) => { at.open = true; })")
    page.evaluate(PAINTED)


def open_sheet(screen: Screen) -> None:
    screen.ate_sheet("Teasel")
    expect(screen.page.get_by_role("dialog")).to_be_visible()


def dress(page: Page, theme: str) -> None:
    """Day or night, and the language that is spoken, as the farm page would set them."""
    page.evaluate("(theme) => localStorage.setItem('mangerline.theme', theme)", theme)
    page.evaluate("(language) => localStorage.setItem('mangerline.language', language)", spoken[-1])
    page.evaluate(GO, "")
    page.reload()
    expect(page.get_by_role("heading", name=say("chores"), exact=True)).to_be_visible()


PAINTED = "() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => done(true))))"
GO = """(address) => new Promise((done) => {
  const hash = `#/${address}`;
  if (location.hash === hash) return done(true);
  addEventListener("hashchange", () => setTimeout(() => done(true)), { once: true });
  location.hash = hash;
})"""


def walk(screen: Screen, barn: Barn, half: int | None = None) -> Iterator[str]:
    """Each screen in turn, painted; its name."""
    for n, (name, address) in enumerate(addresses(barn).items()):
        if half is not None and n % 2 != half and not is_new(name):
            continue
        visit(screen, address)
        if is_new(name):
            unfold(screen.page)
        yield name
    open_sheet(screen)
    yield SHEET
    screen.page.keyboard.press("Escape")


def sitters_walk(screen: Screen, barn: Barn) -> Iterator[str]:
    """Her home at a meal with nobody to look at and at one with, everything on it open; then what it leads to."""
    for slot in ("midday", "evening"):
        visit(screen, "")
        screen.button(say(f"slot.{slot}")).click()
        screen.page.evaluate(UNFOLD)
        unfold(screen.page)
        yield f"sitter {slot}"
    for name, address in sitters(barn).items():
        visit(screen, address)
        yield name


def owners_walk(screen: Screen) -> Iterator[str]:
    """What only an owner is shown; an invitation with its picture; one of her people, everything on it open."""
    for name, address in owners().items():
        visit(screen, address)
        screen.page.wait_for_load_state("networkidle")
        yield name
    visit(screen, "farm/people/invite/helper")
    screen.button(say("invite.go")).click()
    expect(screen.page.locator("img.qr")).to_be_visible()
    yield "owner invitation"
    visit(screen, "farm/people")
    screen.page.get_by_role("link", name=re.compile("^Jory")).click()
    expect(screen.button(re.compile(f"^{say('role.family')}"))).to_be_enabled()
    unfold(screen.page)
    yield "owner member"


@dataclass(frozen=True)
class Walkers:
    """The family's phone, which is shown nearly everything, and the one of somebody who goes by a pack; the owner's too
    where her pages are wanted."""

    family: Screen
    sitter: Screen
    barn: Barn
    owner: Screen | None = None

    @property
    def pages(self) -> list[Page]:
        return [one.page for one in (self.family, self.sitter, self.owner) if one]

    def size(self, width: int, height: int) -> None:
        for page in self.pages:
            page.set_viewport_size({"width": width, "height": height})

    def dress(self, theme: str) -> None:
        for page in self.pages:
            dress(page, theme)

    def walk(self, half: int | None = None) -> Iterator[tuple[Page, str]]:
        """`half`: of the family's screens every other one, the first or the second; all of them where all is tried."""
        for name in walk(self.family, self.barn, None if THOROUGH else half):
            yield self.family.page, name
        for name in sitters_walk(self.sitter, self.barn):
            yield self.sitter.page, name
        if self.owner:
            for name in owners_walk(self.owner):
                yield self.owner.page, name
