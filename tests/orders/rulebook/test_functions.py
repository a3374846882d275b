import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from orders.rulebook import functions
from orders.rulebook.functions import FUNCTIONS, floor_mm, less, more, rim_rise, rise, up_to_half


@pytest.mark.parametrize(
    # published values 4.3, to their four decimals: the point's place, the end of the motion, its rise there
    ("x", "y", "angle", "expected"),
    [
        (45, 20, 15, 10.9654),
        (45, 20, 20, 14.1848),
        (60, 0, 10, 10.4189),
        (50, 30, 12, 9.7400),
        (35, 20, 20, 10.7646),
    ],
)
def test_the_rise_is_the_published_one(x, y, angle, expected):
    assert rise(float(x), float(y), float(angle)) == pytest.approx(expected, abs=5e-5)


def test_a_rise_to_the_side_of_a_low_axis_ends_half_way_too():
    # as far in front as above, though only five thousandths: highest at 45 deg, at the root of two times as much
    assert rise(0.005, 0.005, 90.0) == pytest.approx(0.005 * (math.sqrt(2) - 1), rel=1e-9)


def test_the_rise_is_largest_within_the_range_not_at_its_end():
    # 20 mm in front and 40 mm above: highest at atan(20/40) = 26.57 deg, where it is sqrt(20² + 40²) - 40
    highest = math.hypot(20, 40) - 40

    assert rise(20.0, 40.0, 60.0) == pytest.approx(highest, abs=1e-9)
    assert rise(20.0, 40.0, 20.0) < highest


@given(st.floats(1, 90), st.floats(-60, 60), st.floats(0, 60))
def test_nowhere_in_the_range_does_the_rim_rise_higher(radius, height, most):
    along = [most * step / 200 for step in range(201)]
    by_hand = [radius * math.sin(math.radians(t)) - height * (1 - math.cos(math.radians(t))) for t in along]

    # 0.3 deg steps miss a flat maximum by less than r·(0.15 deg)²/2 < 0.001 mm
    assert max(by_hand) - 1e-9 <= rise(radius, height, most) <= max(by_hand) + 1e-3


def test_the_rim_rises_by_the_higher_of_front_and_rear():
    assert rim_rise(50.0, 20.0, 20.0, 25.0) == rise(50.0, 20.0, 25.0)
    assert rim_rise(50.0, 20.0, 12.0, 8.0) == rise(50.0, 20.0, 12.0)


def test_limits_end_at_a_millionth():
    # as their own words say: by more than 1e-6. From 0, so that no double rounds it away
    assert [less(0.0, by) for by in (0.995e-6, 1e-6, 1.005e-6)] == [False, False, True]
    assert [more(by, 0.0) for by in (0.995e-6, 1e-6, 1.005e-6)] == [False, False, True]


def test_the_root_of_nought_is_nought_and_below_it_is_no_number():
    assert functions.sqrt(0.0) == 0.0
    assert functions.sqrt(0.0025) == pytest.approx(0.05, rel=1e-12)
    assert math.isnan(functions.sqrt(-1e-300))


@given(st.integers(0, 10_000_000), st.integers(0, 600_000))
def test_floor_is_right_for_every_reading_of_four_decimals(taken, gap):
    taken, gap = Fraction(taken, 10_000), Fraction(gap, 10_000)

    assert floor_mm(float(taken) - float(gap)) == math.floor(taken - gap)


@given(st.integers(0, 64 * 30), st.integers(0, 64 * 2), st.sampled_from([1, 2]))
def test_floor_is_right_for_inches_in_64ths_and_for_means_of_two(taken, gap, readings):
    taken, gap = Fraction(taken, 64 * readings) * Fraction(127, 5), Fraction(gap, 64) * Fraction(127, 5)

    assert floor_mm(float(taken) - float(gap)) == math.floor(taken - gap)


@given(st.integers(-3_000_000, 3_000_000), st.integers(-3_000_000, 3_000_000))
def test_limits_are_kept_for_sums_of_four_decimals(a, b):
    total = float(Fraction(a, 10_000)) + float(Fraction(b, 10_000))

    assert less(total, float(Fraction(a + b, 10_000))) is False
    assert more(total, float(Fraction(a + b, 10_000))) is False
    assert less(total, float(Fraction(a + b + 1, 10_000))) is True
    assert more(total, float(Fraction(a + b - 1, 10_000))) is True


def test_halves_are_rounded_up_to():
    assert [up_to_half(x) for x in (21.0, 21.2, 21.5, 21.500001, 21.51)] == [21.0, 21.5, 21.5, 21.5, 22.0]


NUMBERS = [0.0, -0.0, 1.0, -1.0, 0.5, 1e-7, 1e9, 1e300, -1e300, math.inf, -math.inf, math.nan]


@pytest.mark.parametrize("name", sorted(FUNCTIONS))
def test_no_function_raises_for_any_double(name):
    function, takes, gives = FUNCTIONS[name]
    for n in range(len(NUMBERS)):
        value = function(*(NUMBERS[(n + k) % len(NUMBERS)] for k in range(len(takes))))
        assert isinstance(value, bool if gives == "flag" else float)


def same(a, b) -> bool:
    if isinstance(a, bool) or isinstance(b, bool):
        return a is b
    if math.isnan(a) or math.isnan(b):
        return math.isnan(a) and math.isnan(b)
    return a == b or math.isclose(a, b, rel_tol=1e-14)


@pytest.mark.parametrize("name", sorted(FUNCTIONS))
def test_the_twin_gives_the_same(js, name):
    function, takes, _ = FUNCTIONS[name]
    numbers = [0.0, 1.0, -1.0, 0.5, 12.7, 400.0000004, 400.0000012, -30.0, 1e9, 55.5]
    rows = [[numbers[(n + 3 * k) % 10] for k in range(len(takes))] for n in range(10)]
    rows += [[numbers[(n * (k + 1)) % 10] for k in range(len(takes))] for n in range(10)]
    call = "a[1].map((row) => module.FUNCTIONS[a[0]](...row)).map((x) => Number.isNaN(x) ? 'nan' : x)"

    answers = js("book/functions.js").evaluate(f"((module, a) => {call})", [name, rows])

    for row, answer in zip(rows, answers, strict=True):
        assert same(function(*row), math.nan if answer == "nan" else answer), (row, answer)


def test_both_twins_have_the_same_functions(js):
    assert set(js("book/functions.js").evaluate("((module) => Object.keys(module.FUNCTIONS))")) == set(
        FUNCTIONS
    )
    assert functions.TOLERANCE == 1e-6
