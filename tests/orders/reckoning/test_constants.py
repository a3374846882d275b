from pathlib import Path

from orders.reckoning import constants

PROFILE = Path(__file__).parent / "girth_profile.csv"


def test_twins_have_the_same_ordinary_ranges(js):
    ranges = js("reading/typed.js").evaluate("(typed) => typed.ORDINARY_MM")

    assert {key: tuple(ends) for key, ends in ranges.items()} == constants.ORDINARY_MM
