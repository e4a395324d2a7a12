"""That the bare formulas and the product give the same figures: a check of both, whatever the clock says."""

from tests.bench.compile import bare, compiled, farthest, herd, rows


def test_the_bare_formulas_and_the_product_agree_to_the_unit() -> None:
    does = herd(24)
    assert farthest(compiled(does), bare(does)) <= 1


def test_the_rows_are_there() -> None:
    assert [row.unit for row in rows(4, rounds=1)] == ["ms", "ms", "x", "x"]
