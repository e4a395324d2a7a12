"""The herd's card from the log: the week's diet, labels and reports, water, and what is not known."""

from __future__ import annotations

from typing import Any

import pytest

from herd.outlook.book import compile_book
from herd.outlook.card.document import compile_card
from herd.outlook.card.water import read_test
from herd.state.fold import fold
from tests.support.log import Log

DAY = "2026-11-15"
WEEK = [f"2026-11-{d:02}" for d in range(8, 15)]
LABEL = {"name": "Loose mineral", "class": "mineral", "dm_pct_x10": 1000, "cu_ppm_x100": 150_000, "se_ppm_x100": 2_600}


def farm(hay: str = "timothy_hay_early", days: list[str] | None = None) -> Log:
    log = Log()
    for doe in ("fern", "moss"):
        log.record("doe", doe, name=doe, size="standard")
    log.pen("dry", "fern", "moss")
    log.record("pen", "dry", waste_pm=100)
    for on in WEEK if days is None else days:
        log.fed("dry", on, "morning", ("", hay, 4000))
    return log


def card(log: Log) -> Any:
    view = fold(log.events)
    return compile_card(view, dict(compile_book(view)), DAY)


def line(made: Any, element: str) -> Any:
    return next(one for one in made["lines"] if one["el"] == element)


def water(log: Log, drunk_l: int | None, *values: tuple[str, str, str]) -> None:
    rows = [{"what": what, "printed": printed, "unit": unit} for what, printed, unit in values]
    log.add("water", "farm", {"place": "Well", "drunk_l": drunk_l, "values": rows}, "2026-11-10")


def test_nothing_fed_and_no_water_is_no_card() -> None:
    assert card(farm(days=[])) is None


def test_a_day_is_the_average_of_the_days_fed_less_the_feeders_waste() -> None:
    made = card(farm(days=WEEK[3:]))
    assert made["days"] == 4
    # 4000 g x 0.88 dry matter x 0.9 eaten
    assert made["dm_g"] == 3168
    assert made["does"] == 2


def test_a_label_adds_to_the_hay_and_every_source_is_named() -> None:
    log = farm()
    log.record("feed", "loose", **LABEL)
    for on in WEEK:
        log.fed("dry", on, "evening", ("", "loose", 20))
    copper = line(card(log), "cu")
    # hay 3.168 kg x 4.5 mg/kg = 14.256 mg; mineral 20 g x 1500 mg/kg = 30 mg; 44.256 / 3.188 kg
    assert copper["sources"] == [["loose", 30_000], ["timothy_hay_early", 14_256]]
    assert copper["ug_kg"] == pytest.approx(13_882, abs=2)


def test_what_lies_out_counts_by_what_a_doe_takes_and_not_by_what_was_put_out() -> None:
    log = farm()
    log.record("feed", "loose", **LABEL, free_choice=True, free_g_x10=80)
    log.fed("dry", WEEK[0], "evening", ("", "loose", 5000))
    made = card(log)
    # 8 g x 2 does x 1500 mg/kg
    assert line(made, "cu")["sources"][0] == ["loose", 24_000]


def test_a_product_eaten_in_an_unknown_amount_makes_totals_at_least() -> None:
    log = farm()
    log.record("feed", "loose", **LABEL, free_choice=True, mo_ppm_x100=0)
    made = card(log)
    assert "loose" in line(made, "cu")["blank"]
    assert "loose" not in line(made, "mo")["blank"], "without any of it, the amount does not matter"


def test_a_figure_of_the_report_beats_the_tables() -> None:
    log = farm("lot")
    log.record("lot", "lot", name="June", feed="timothy_hay_early", cu_ppm_x100=1200, k_pct_x100=210)
    made = card(log)
    assert line(made, "cu")["ug_kg"] == 12_000
    assert line(made, "k")["ug_kg"] == 21_000_000
    assert line(made, "mg")["ug_kg"] == 1_000_000, "the rest is that of the feed it is a lot of: 0.1 %"


def test_sulfur_of_the_water_is_added_to_that_of_the_feed() -> None:
    log = farm()
    water(log, 8, ("sulfate", "1000", "mg_l"), ("fe", "300", "ug_l"))
    made = card(log)
    # 1000 mg x 0.334 x 8 L = 2.672 g; timothy hay 0.12 % of 3.168 kg = 3.8016 g
    assert line(made, "s")["sources"] == [["timothy_hay_early", 3_801_600], ["water", 2_672_000]]
    tested = {row["what"]: row for row in made["water"]["tested"]}
    assert tested["sulfate"]["ug_d"] == 2_672_000
    assert (tested["fe"]["ug_l"], tested["fe"]["band"]) == (300, "amber")
    assert "nitrate_n" in made["water"]["untested"]


def test_litres_nobody_measured_leave_the_water_unknown() -> None:
    log = farm()
    water(log, None, ("sulfate", "1000", "mg_l"))
    made = card(log)
    assert "water" in line(made, "s")["blank"]
    assert made["water"]["tested"][0]["band"] == "amber"


def test_water_alone_makes_a_card_without_lines() -> None:
    log = farm(days=[])
    water(log, 8, ("nitrate", "900", "mg_l"))
    made = card(log)
    assert made["lines"] == []
    # 900 / 4.43 = 203 mg nitrate nitrogen
    assert [(row["what"], row["band"]) for row in made["water"]["tested"]] == [("nitrate_n", "red")]


def test_below_detection_is_none_unless_the_limit_itself_would_matter() -> None:
    def read(what: str, printed: str) -> Any:
        return read_test({"values": [[what, printed, "mg_l"]]})[what]

    assert read("fe", "<0.05") == 0
    assert read("fe", "< 5") is None


def test_sheep_at_the_same_feed_raise_copper() -> None:
    log = farm("lot")
    log.record("lot", "lot", name="June", feed="timothy_hay_early", cu_ppm_x100=1800)
    water(log, 8, ("cu", "0", "mg_l"))
    assert "copper_for_sheep" not in [alert["code"] for alert in card(log)["alerts"]]
    log.record("rules", "farm", sheep_share="yes")
    made = card(log)
    assert made["sheep"]
    assert made["alerts"][0]["code"] == "copper_for_sheep"
    assert made["alerts"][0]["grade"] == "hard"


def test_an_unknown_total_never_reads_short() -> None:
    made = card(farm("orchardgrass_hay"))
    for one in made["lines"]:
        assert not (one["blank"] and one["st"] == "short")


def test_whole_numbers_only() -> None:
    def walk(value: Any) -> None:
        assert not isinstance(value, float)
        for inner in value.values() if isinstance(value, dict) else value if isinstance(value, list) else ():
            walk(inner)

    log = farm()
    water(log, 9, ("sulfate", "640", "mg_l"))
    walk(card(log))
