import pytest

from orders.reckoning.result import FIGURES, rounded


def test_numbers_are_rounded_half_up_to_three_decimals():
    # by hand; the halves are exact doubles
    assert [rounded(value) for value in (3.2004, 3.2006, 0.000496, -1.2345, 7)] == [3.2, 3.201, 0, -1.234, 7]
    assert [rounded(value, 0) for value in (0.5, 1.5, -0.5, 2.49)] == [1, 2, 0, 2]


@pytest.mark.parametrize("decimals", range(10))
def test_what_is_short_enough_stays(decimals):
    assert rounded(1 + 2 * 10.0**-decimals, decimals) == 1 + 2 * 10.0**-decimals


def test_no_figure_stands_there_twice():
    assert len(FIGURES) == len(set(FIGURES)) == 18
