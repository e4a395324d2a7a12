"""The book: rules with the farm's own over ours, and what feeds and lots are made of."""

from typing import Any

from herd.outlook.book import compile_book


def book(feeds: dict[str, Any] | None = None, lots: dict[str, Any] | None = None, **rules: Any) -> Any:
    wrap = {key: {"f": f} for key, f in (feeds or {}).items()}, {key: {"f": f} for key, f in (lots or {}).items()}
    return compile_book({"rules": {"f": rules}, "feeds": wrap[0], "lots": wrap[1]})


def test_library_is_whole_and_blanks_stay_unknown() -> None:
    feeds = book()["feeds"]
    assert len(feeds) == 118
    assert feeds["barley_grain"]["cp_ug_g"] == 125000
    assert feeds["barley_grain"]["dm_pm"] == 890
    assert feeds["boss"]["ca_ug_g"] is None


def test_own_feed_takes_what_was_entered_and_the_rest_from_the_feed_it_is_like() -> None:
    own = {"name": "Top meadow", "like": "orchardgrass_hay", "cp_pct_x10": 121, "tdn_pct_x10": 580, "ca_pct_x100": 41}
    found = book({"own": own})["feeds"]
    like = found["orchardgrass_hay"]
    assert found["own"]["name"] == "Top meadow"
    assert found["own"]["class"] == like["class"]
    assert (found["own"]["cp_ug_g"], found["own"]["ca_ug_g"]) == (121000, 4100)
    assert found["own"]["me_kj_kg"] == 8774, "58 x 4.409 x 0.82 x 41.84 kJ"
    assert found["own"]["p_ug_g"] == like["p_ug_g"]


def test_a_lot_falls_back_to_its_feed_and_says_which() -> None:
    found = book(
        {"own": {"name": "Meadow", "like": "brome_hay", "cp_pct_x10": 90}}, {"lot": {"feed": "own", "dm_pct_x10": 860}}
    )
    lot = found["feeds"]["lot"]
    assert lot["of"] == "own"
    assert (lot["dm_pm"], lot["cp_ug_g"]) == (860, 90000)
    assert lot["ndf_pm"] == found["feeds"]["brome_hay"]["ndf_pm"]


def test_a_feed_like_nothing_is_unknown_not_zero() -> None:
    found = book({"mystery": {"name": "Neighbour's bag"}}, {"lot": {"feed": "gone"}})["feeds"]
    assert found["mystery"]["me_kj_kg"] is None
    assert found["lot"]["cp_ug_g"] is None


def test_a_rule_outside_its_range_leaves_the_default() -> None:
    assert book(level_pm=100)["rules"]["level_pm"] == 100
    assert book(level_pm=100000)["rules"]["level_pm"] == book()["rules"]["level_pm"]
    assert book(level_pm=True)["rules"]["level_pm"] == book()["rules"]["level_pm"]
    assert all(type(value) is int for value in book()["rules"].values())


def test_an_energy_nobody_could_have_measured_is_unknown() -> None:
    assert book({"own": {"name": "x", "like": "brome_hay", "tdn_pct_x10": 1900}})["feeds"]["own"]["me_kj_kg"] is None
