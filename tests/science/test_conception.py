"""On which day she settled, by what was seen: each piece of evidence moves it the way a keeper would say it does."""

from __future__ import annotations

import pytest

from herd.science.base.errors import OutOfRange
from herd.science.dates.conception import Evidence, conception_chances, own_gestation, scan_sd
from herd.science.dates.gestation import Chances, due_quantile


def chance_of(settled: Chances, first: int, last: int | None = None) -> float:
    return sum(chance for day, chance, _ in settled if first <= day <= (first if last is None else last))


def window(settled: Chances) -> list[float]:
    return [due_quantile(chance, settled, 150.6, 2.8) for chance in (0.02, 0.5, 0.98)]


def test_chances_add_to_one_whatever_is_known() -> None:
    known = Evidence(((0, 20, False), (30, 30, True)), (4, 25), ((10, True), (24, False)), ((60, 50), (90, 85)))
    for seen in (known, Evidence(known.exposures), Evidence(known.exposures, known.marks)):
        settled = conception_chances(seen)
        assert sum(chance for _, chance, _ in settled) == pytest.approx(1)
        assert [row[0] for row in settled] == sorted(row[0] for row in settled)


def test_one_witnessed_service_is_one_day() -> None:
    assert conception_chances(Evidence(((7, 7, True),))) == ((7, 1.0, 0.0),)


def test_a_mark_among_three_weeks_with_the_buck_is_a_service_with_a_day_of_doubt() -> None:
    settled = conception_chances(Evidence(((0, 20, False),), marks=(8,)))
    assert chance_of(settled, 8) > 0.94
    assert [wider for day, _, wider in settled if day == 8] == [1.0]
    early, middle, late = window(settled)
    plain = window(conception_chances(Evidence(((0, 20, False),))))
    assert middle == pytest.approx(158.6, abs=0.3)
    assert late - early < plain[2] - plain[0] - 6


def test_a_service_seen_on_the_marked_day_keeps_its_own_doubt() -> None:
    assert conception_chances(Evidence(((0, 0, True),), marks=(0,))) == ((0, 1.0, 0.0),)


def test_served_again_three_weeks_later_is_the_later_one_and_the_earlier_stays_possible() -> None:
    settled = conception_chances(Evidence(((0, 0, True), (21, 21, True))))
    assert 0.005 < chance_of(settled, 0) < 0.02
    assert window(settled)[0] > 21 + 150.6 - 7


def test_a_scan_brings_the_earlier_service_back() -> None:
    """39 days along on day 40: she had settled the first time, and the heat was one of those a pregnant doe shows."""
    settled = conception_chances(Evidence(((0, 0, True), (21, 21, True)), scans=((40, 39),)))
    assert chance_of(settled, 0) > 0.75
    assert window(settled)[1] == pytest.approx(150.6, abs=0.5)


@pytest.mark.parametrize(("standing", "at_most"), [(True, 0.05), (False, 0.6)])
def test_a_heat_that_came_back_makes_the_weeks_before_it_less_likely(standing: bool, at_most: float) -> None:
    plain = conception_chances(Evidence(((0, 41, False),)))
    settled = conception_chances(Evidence(((0, 41, False),), heats=((22, standing),)))
    assert chance_of(settled, 0, 5) < at_most * chance_of(plain, 0, 5)
    assert chance_of(settled, 0, 5) > 0


def test_a_heat_at_another_time_than_a_cycle_later_says_nothing_of_a_service() -> None:
    for day in (5, 16, 25, 40):
        assert conception_chances(Evidence(((0, 0, True),), heats=((day, True),))) == ((0, 1.0, 0.0),)


def test_a_scan_narrows_weeks_with_the_buck_less_the_later_it_was() -> None:
    """The less sure a scan is, the more the first weeks with the buck count beside it."""
    exposed = ((0, 41, False),)
    plain, spans = window(conception_chances(Evidence(exposed))), []
    for on, along in ((60, 40), (95, 75), (120, 100)):
        settled = conception_chances(Evidence(exposed, scans=((on, along),)))
        early, middle, late = window(settled)
        assert plain[1] < middle < 20 + 150.6
        spans.append(late - early)
    assert spans == sorted(spans)
    assert spans[-1] < plain[2] - plain[0]


def test_a_scan_far_from_the_only_service_is_believed() -> None:
    settled = conception_chances(Evidence(((0, 0, True),), scans=((70, 40),)))
    assert chance_of(settled, 0) < 0.01
    assert window(settled)[1] == pytest.approx(180.6, abs=1)


def test_a_scan_a_few_days_off_leaves_a_witnessed_service_where_it_was() -> None:
    settled = conception_chances(Evidence(((0, 0, True),), scans=((40, 37),)))
    assert chance_of(settled, 0) > 0.98


def test_the_doubt_of_a_scan_goes_by_its_day() -> None:
    assert [scan_sd(day) for day in (30, 59, 60, 90, 91, 140)] == [3, 3, 5, 5, 8, 8]


def test_her_own_mean_counts_a_quarter_from_three_kiddings_on() -> None:
    assert own_gestation(150.6, (154.0, 154.0)) == 150.6
    assert own_gestation(150.6, (154.0, 153.0, 155.0)) == pytest.approx(150.6 + 0.25 * 3.4)


def test_an_exposure_nobody_leaves_a_buck_for_is_refused() -> None:
    with pytest.raises(OutOfRange):
        conception_chances(Evidence(((0, 200, False),)))


@pytest.mark.parametrize(("apart", "one_heat"), [(13, True), (15, False)])
def test_two_services_a_fortnight_apart_are_two_heats_and_closer_are_one(apart: int, one_heat: bool) -> None:
    """Closer than fourteen days, two dates are of one heat: common practice, no source."""
    settled = conception_chances(Evidence(((0, 0, True), (apart, apart, True))))
    assert (chance_of(settled, 0) == pytest.approx(0.5)) == one_heat
    assert one_heat or chance_of(settled, apart) > 0.9
