"""The feed table is complete, says where every figure comes from, and keeps unknown apart from zero."""

import tomllib
from collections import Counter
from functools import cache

import pytest

from herd.science.feeds.library import CLASSES, STANDINGS, TABLES, feeds, origins, provenance, table

PER_CENT = [name for name in table("feeds.csv")[0] if "_pct" in name]
PURE_CARBONATE_CA_PCT = 40.05


@cache
def sources() -> dict[str, dict[str, str]]:
    return tomllib.loads((TABLES / "feed_sources.toml").read_text(encoding="utf-8"))


def source_of(feed_id, column):
    origin = provenance(feed_id, column)
    return origin.source if origin else None


def test_all_118_feeds_are_there_once():
    ids = [row["feed_id"] for row in table("feeds.csv")]
    assert len(ids) == len(set(ids)) == len(feeds()) == 118


def test_every_feed_has_a_known_class_and_every_class_is_used():
    assert {feed.feed_class for feed in feeds().values()} == set(CLASSES)


def test_every_figure_has_an_origin_and_every_origin_a_figure():
    figures = {(feed.id, column) for feed in feeds().values() for column in feed.figures}
    assert figures == set(origins())
    assert len(figures) == 1435


def test_no_figure_has_two_origins():
    named = Counter(
        (row["feed_id"], column) for row in table("feeds_provenance.csv") for column in row["columns"].split()
    )
    assert max(named.values()) == 1


def test_standings_add_up_to_the_published_count():
    count = Counter(origin.standing for origin in origins().values())
    assert count == {"READ": 651, "MEMORY": 622, "DERIVED": 157, "ASSUMED": 5}
    assert set(count) == set(STANDINGS)


def test_source_keys_exist_and_none_is_idle():
    used = {origin.source for origin in origins().values()} | {row["source"] for row in table("feeds_rejected.csv")}
    assert used == set(sources())


def test_a_source_says_what_it_is_and_where_it_was_read():
    for key, source in sources().items():
        assert set(source) == {"kind", "title", "author", "where"}, key
        assert all(source.values()), key


@pytest.mark.parametrize(
    ("kind", "standings"), [("table", {"READ"}), ("memory", {"MEMORY"}), ("rule", {"DERIVED", "ASSUMED"})]
)
def test_standing_fits_the_kind_of_source(kind, standings):
    seen = {origin.standing for origin in origins().values() if sources()[origin.source]["kind"] == kind}
    assert seen == standings


def test_blank_is_unknown_and_never_zero():
    sunflower = feeds()["boss"]
    assert sunflower.ca_ug_g is None
    assert sunflower.p_ug_g is None
    assert provenance("boss", "ca_pct_dm") is None


def test_zero_is_printed_only_for_what_a_salt_or_a_syrup_cannot_hold():
    zeros = {(feed.id, column) for feed in feeds().values() for column, figure in feed.figures.items() if figure == 0}
    no_fibre = {(syrup, part) for syrup in ("molasses_cane", "molasses_beet") for part in ("ndf_pct_dm", "adf_pct_dm")}
    no_bypass = {(feed, "rup_pct_cp") for feed in ("molasses_cane", "molasses_beet", "ammonium_chloride")}
    no_energy = {("ammonium_chloride", "tdn_pct_dm"), ("ammonium_chloride", "me_mcal_per_kg_dm")}
    assert zeros == no_fibre | no_bypass | no_energy


def test_fibre_fractions_nest():
    both = [feed.figures for feed in feeds().values() if {"ndf_pct_dm", "adf_pct_dm"} <= set(feed.figures)]
    assert len(both) > 80
    assert all(figures["ndf_pct_dm"] >= figures["adf_pct_dm"] for figures in both)


def test_protein_fibre_fat_and_ash_do_not_exceed_the_dry_matter():
    parts = ("cp_pct_dm", "ndf_pct_dm", "fat_pct_dm", "ash_pct_dm")
    for feed in feeds().values():
        if feed.feed_class != "mineral":
            assert sum(feed.figures.get(part, 0) for part in parts) <= 110, feed.id


@pytest.mark.parametrize("column", PER_CENT)
def test_shares_are_shares_unless_fat_or_nitrogen_salts_exceed_them(column):
    beyond = {feed.id for feed in feeds().values() if not 0 <= feed.figures.get(column, 0) <= 100}
    high_energy = {feed.id for feed in feeds().values() if feed.feed_class == "fat"}
    allowed = {"tdn_pct_dm": high_energy, "cp_pct_dm": {"ammonium_chloride"}}
    assert beyond <= allowed.get(column, set())


@pytest.mark.parametrize(
    ("column", "low", "high"),
    [
        ("dm_pct", 10, 100),
        ("me_mcal_per_kg_dm", 1.1, 6),
        ("ca_pct_dm", 0.01, PURE_CARBONATE_CA_PCT),
        ("fe_mg_per_kg", 10, 25_000),
        ("cu_mg_per_kg", 0.5, 2_500),
        ("se_mg_per_kg", 0.005, 60),
    ],
)
def test_figures_lie_where_feeds_lie(column, low, high):
    for feed in feeds().values():
        if feed.figures.get(column):
            assert low <= feed.figures[column] <= high, feed.id


def test_misprints_are_kept_on_a_list_and_out_of_the_table():
    rejected = table("feeds_rejected.csv")
    assert len(rejected) == 6
    for row in rejected:
        assert feeds()[row["feed_id"]].figures.get(row["column"]) != float(row["printed"]), row
        assert row["reason"]


def test_energy_worked_out_from_tdn_is_that_sum():
    worked = [feed for feed in feeds().values() if source_of(feed.id, "me_mcal_per_kg_dm") == "rule_me_from_tdn"]
    assert len(worked) == 91
    for feed in worked:
        assert feed.figures["me_mcal_per_kg_dm"] == pytest.approx(0.03615 * feed.figures["tdn_pct_dm"], abs=0.006)


def test_whole_numbers_for_the_phone_come_from_the_printed_units():
    hay = feeds()["alfalfa_hay_world_avg"]
    assert (hay.dm_pm, hay.cp_ug_g, hay.ndf_pm, hay.ca_ug_g, hay.p_ug_g) == (894, 182_000, 448, 16_800, 2_600)
    assert hay.me_kj_kg == 8410
