"""One doe for each thing that can be done, and what she must be offered; all on one farm, or each by herself."""

from __future__ import annotations

from collections.abc import Callable

from tests.support.some_does import MEALS, MINIATURE, STANDARD, SomeDoes

FED_D = 28
GRASS, POOR, MIXED, LEGUME, BARLEY = "meadow", "prairie_hay", "second", "lucerne", "barley_grain"


def barn() -> SomeDoes:
    """Three lots of hay by the flake and barley by the tin."""
    does = SomeDoes()
    does.lot(GRASS, "grass_hay_general", 1100)
    does.lot(MIXED, "oat_pea_hay_early", 1400)
    does.lot(LEGUME, "alfalfa_hay_mid", 1500)
    does.scoop("tin", BARLEY, 160)
    return does


def fills(does: SomeDoes) -> None:
    """Mid, alone at a feeder that is empty long before the next meal."""
    does.doe("fern", 60, 60, 2, "north", **STANDARD)
    does.given("north", **{GRASS: 1200})
    does.scored("fern", 300, -20)


def bowls(does: SomeDoes) -> None:
    """Thin, with two mates who hold their own on grain; there is not hay enough, and none of them eats other hay."""
    for name in ("briar", "ada", "bea"):
        does.doe(name, 60, 60, 2, "west", **STANDARD, wont_eat=[POOR, MIXED, LEGUME])
    does.given("west", **{GRASS: 4000})
    does.given("ada", **{BARLEY: 100})
    does.given("bea", **{BARLEY: 100})
    does.scored("briar", 275, -40)
    does.scored("briar", 225, -5)
    does.scored("ada", 300, -5)
    does.scored("bea", 300, -5)


def betters(does: SomeDoes) -> None:
    """Thin on all the poor hay she can eat; she leaves alfalfa and grain."""
    does.doe("clove", 60, 25, 2, "ridge", **STANDARD, wont_eat=[LEGUME, BARLEY])
    does.given("ridge", **{POOR: 2000})
    does.scored("clove", 250, -5)


def grains(does: SomeDoes) -> None:
    """Thin on all the hay she can eat, and she leaves what is better."""
    does.doe("dock", 60, 50, 2, "hill", **STANDARD, wont_eat=[LEGUME, MIXED])
    does.given("hill", **{GRASS: 2000})
    does.scored("dock", 225, -5)


def eases_grain(does: SomeDoes) -> None:
    """Early and over, by the grain she gets beside good hay."""
    does.doe("elder", 60, 40, 2, "brook", **STANDARD)
    does.given("brook", **{GRASS: 1700})
    does.given("elder", **{BARLEY: 300})
    does.scored("elder", 325, -5)


def eases_legume(does: SomeDoes) -> None:
    """Early and fat on alfalfa."""
    does.doe("flax", 60, 40, 2, "copse", **STANDARD)
    does.given("copse", **{LEGUME: 2000})
    does.scored("flax", 375, -5)


def late_short(does: SomeDoes) -> None:
    """Day 105 with two, holding her condition on hay that ends before she does."""
    does.doe("gorse", 60, 105, 2, "mill", **STANDARD)
    does.given("mill", **{GRASS: 850, LEGUME: 285})
    does.scored("gorse", 300, -40, -2)


def splits(does: SomeDoes) -> None:
    """All of her grain in one meal, and more than a meal may hold."""
    does.doe("hazel", 40, 60, 1, "lea", **STANDARD)
    does.given("lea", **{GRASS: 1200})
    does.plan("hazel", "morning", BARLEY, (-60, 380))
    does.scored("hazel", 275, -3)


def steps_big(does: SomeDoes) -> None:
    """A raise that is planned in one jump."""
    does.doe("ivy", 40, 60, 1, "croft", **STANDARD)
    does.given("croft", **{GRASS: 1400})
    does.plan("ivy", "morning", BARLEY, (-60, 120), (2, 320))
    does.scored("ivy", 275, -3)


def cut_late(does: SomeDoes) -> None:
    """Day 120, and half of her hay is to go in three days."""
    does.doe("larch", 60, 120, 2, "dell", **STANDARD)
    for slot in MEALS:
        does.plan("dell", slot, MIXED, (-60, 1000), (3, 500))
    does.scored("larch", 300, -3)


def switches(does: SomeDoes) -> None:
    """Her meadow hay is to be alfalfa in three days, all at once."""
    does.doe("maple", 60, 60, 2, "shaw", **STANDARD)
    for slot in MEALS:
        does.plan("shaw", slot, GRASS, (-60, 900), (3, 0))
        does.plan("shaw", slot, LEGUME, (-60, 0), (3, 800))
    does.scored("maple", 300, -3)


def calcium(does: SomeDoes) -> None:
    """Late on poor grass hay: enough of it, and too little calcium in it."""
    does.doe("mallow", 60, 112, 2, "fen", **STANDARD)
    does.given("fen", **{POOR: 2600})
    does.given("mallow", **{BARLEY: 200})
    does.scored("mallow", 325, -3)


def thin_with_three(day: int, hay_g: int) -> SomeDoes:
    """Three kids, thin, on so much hay and nothing else."""
    does = SomeDoes()
    does.doe("fern", 60, day, 3, **STANDARD)
    does.given("pen", grass_hay_general=hay_g)
    does.scored("fern", 275, -40)
    does.scored("fern", 200, -2)
    does.fed_as_planned(-28, 0)
    return does


def miniature(does: SomeDoes) -> None:
    """A small doe on too little hay."""
    does.doe("nettle", 30, 70, 2, "nook", **MINIATURE)
    does.given("nook", **{GRASS: 600})
    does.scored("nettle", 300, -10)


def moves(does: SomeDoes) -> None:
    """Early and fat on the one hay she eats, beside one who is late: what goes in is right for the other."""
    does.doe("olive", 60, 40, 1, "orchard", **STANDARD, wont_eat=[POOR, GRASS, LEGUME])
    does.doe("poppy", 60, 118, 2, "orchard", **STANDARD)
    does.given("orchard", **{MIXED: 4600})
    does.scored("olive", 400, -40, -5)
    does.scored("poppy", 300, -40, -5)


# What is said first of each.
FIRST: dict[str, tuple[Callable[[SomeDoes], None], str]] = {
    "fern": (fills, "fill_feeder"),
    "briar": (bowls, "own_bowl"),
    "clove": (betters, "better_hay"),
    "dock": (grains, "grain_up"),
    "elder": (eases_grain, "grain_down"),
    "flax": (eases_legume, "legume_down"),
    "gorse": (late_short, "fill_feeder"),
    "hazel": (splits, "hold_split"),
    "ivy": (steps_big, "safe_steps"),
    "larch": (cut_late, "keep_amount"),
    "maple": (switches, "hay_in_steps"),
    "mallow": (calcium, "legume_up"),
    "nettle": (miniature, "fill_feeder"),
    "olive": (moves, "move"),
}


def farm_of(*names: str) -> SomeDoes:
    """Those does, or all of them; every meal up to yesterday given as planned."""
    does = barn()
    for name in names or FIRST:
        FIRST[name][0](does)
    does.fed_as_planned(-FED_D, -1)
    return does
