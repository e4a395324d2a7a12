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


def test_a_tested_lot_is_surer_than_one_from_fibre_alone_and_both_than_the_table() -> None:
    own = {name: {"like": "brome_hay", "tdn_pct_x10": 560, "tdn_by": name} for name in ("lab", "fibre_legume")}
    feeds = book(own)["feeds"]
    assert (feeds["lab"]["me_sd_pm"], feeds["fibre_legume"]["me_sd_pm"]) == (50, 100)
    assert "me_sd_pm" not in feeds["brome_hay"]


def test_minerals_of_a_report_go_from_feed_to_its_lots() -> None:
    own = {"own": {"like": "brome_hay", "k_pct_x100": 210, "se_ppm_x100": 5, "cu_ppm_x100": None}}
    lot = book(own, {"lot": {"feed": "own", "se_ppm_x100": 8}})["feeds"]["lot"]
    assert (lot["k_ug_g"], lot["se_ng_g"]) == (21_000, 80)
    assert "cu_ng_g" not in lot


def test_more_undegraded_protein_is_worth_more() -> None:
    kept = {str(uip): {"like": "brome_hay", "cp_pct_x10": 100, "uip_pct_x10": uip} for uip in (200, 400)}
    feeds = book(kept)["feeds"]
    assert feeds["200"]["cp_eq_ug_g"] == 100_000
    assert feeds["400"]["cp_eq_ug_g"] == 104_762, "(0.64 + 0.16 x 0.4) / (0.64 + 0.16 x 0.2)"


def test_a_weighed_tray_of_sprouts_has_the_grains_dry_matter_and_no_more() -> None:
    tray = {"like": "barley_sprouts_d6", "sprout_of": "barley_grain", "sprout_grain_g": 1000, "sprout_days": 6}
    feeds = book({"usual": tray, "wet": {**tray, "sprout_tray_g": 6000}, "no": {**tray, "sprout_tray_g": 100}})["feeds"]
    # 1 kg at 89 % less 0.219 x (6/7)^1.5 is 735.3 g, in 6 kg
    assert feeds["wet"]["dm_pm"] == 123
    assert feeds["usual"]["dm_pm"] == 165
    assert feeds["no"]["dm_pm"] == feeds["barley_sprouts_d6"]["dm_pm"], "a tray lighter than its dry matter is no tray"
    assert feeds["wet"]["class"] == "fodder"


def test_pasture_is_a_guess_however_well_the_plant_was_tested() -> None:
    feeds = book({"own": {"like": "pasture_grass_veg", "tdn_pct_x10": 650, "tdn_by": "lab"}})["feeds"]
    assert feeds["pasture_grass_veg"]["me_sd_pm"] == 364, "10 % of the plant and 35 % of the amount"
    assert feeds["own"]["me_sd_pm"] == 354
    assert feeds["own"]["grazed"] == 1
    assert book()["grazing"] == {"light": [250, 500], "half": [500, 350], "full": [850, 200]}


def test_a_litre_is_guessed_for_feeds_with_a_density_and_what_is_like_them() -> None:
    feeds = book({"own": {"like": "barley_grain"}})["feeds"]
    assert (feeds["own"]["l_low_g"], feeds["own"]["l_g"], feeds["own"]["l_high_g"]) == (560, 620, 660)
    assert "l_g" not in feeds["brome_hay"]


def test_a_product_like_nothing_has_its_class_and_no_borrowed_figures() -> None:
    own = book({"own": {"name": "Blue bag", "class": "mineral", "cu_ppm_x100": 150_000}})["feeds"]["own"]
    assert (own["class"], own["cu_ng_g"], own["ca_ug_g"]) == ("mineral", 1_500_000, None)
