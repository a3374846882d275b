import pytest

from orders.reckoning import constants

from .published import rows


def test_girth_profile_is_the_published_one():
    published = [(row["t"], row["girth"], row["ap_over_ml"]) for row in rows("girth_profile")]
    # the design takes 1.07 at the widest place, where the mesh has 1.068
    expected = [(t, girth, 1.07 if t == constants.WIDEST_T else ratio) for t, girth, ratio in published]

    assert list(constants.GIRTH_PROFILE) == expected


def test_twins_have_the_same_ordinary_ranges(js):
    ranges = js("reading/typed.js").evaluate("(typed) => typed.ORDINARY_MM")

    assert {key: tuple(ends) for key, ends in ranges.items()} == constants.ORDINARY_MM


@pytest.mark.parametrize(
    "name",
    [
        "BOTTOM_EDGE_T",
        "WIDEST_T",
        "GIRTH_PROFILE",
        "FRONT_LINE",
        "FRONT_LINE_GIRTH_MM",
        "KNEE_AXIS_X_MM",
    ],
)
def test_twins_have_the_same_geometry(js, name):
    theirs = js("geometry/constants.js").evaluate("(module, name) => module[name]", name)
    ours = getattr(constants, name)

    assert theirs == ([list(row) for row in ours] if isinstance(ours, tuple) else ours)
