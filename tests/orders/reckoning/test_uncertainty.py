"""Held to the worked examples of JCGM 100:2008, annex H."""

from math import cos, pi, sin, sqrt

import numpy as np
import pytest
from uncertainties import correlated_values, ufloat

from orders.reckon import reckon
from orders.reckoning.errors import OutOfRange
from orders.reckoning.uncertainty import combined_standard_uncertainty
from tests.orders.entries import catalogue, entry_with

# Annex H.2, five sets of readings: potential [V], current [mA], phase [rad].
V = [5.007, 4.994, 5.005, 4.990, 4.999]
CURRENT = [19.663e-3, 19.639e-3, 19.640e-3, 19.685e-3, 19.678e-3]
PHI = [1.0456, 1.0438, 1.0468, 1.0428, 1.0433]


def test_end_gauge_of_annex_h1():
    # nm: standard; comparator, three parts; expansion difference; temperature difference
    inputs = [25, 5.8, 3.9, 6.7, 2.88679, 16.599]

    # the guide prints 32; from the inputs as printed, 31.66
    assert combined_standard_uncertainty(inputs) == pytest.approx(31.66, abs=5e-3)
    # its part for the difference of the lengths: 9.68 (printed 9.7)
    assert combined_standard_uncertainty(inputs[1:4]) == pytest.approx(9.68, abs=5e-3)


def _h2():
    readings = np.array([V, CURRENT, PHI])
    means = readings.mean(axis=1)
    errors = readings.std(axis=1, ddof=1) / sqrt(5)
    return means, errors, np.corrcoef(readings)


@pytest.mark.parametrize(
    ("quantity", "uncertainty"),
    [("resistance", 0.071071), ("reactance", 0.295582), ("impedance", 0.236336)],
)
def test_correlated_inputs_of_annex_h2(quantity, uncertainty):
    (v, i, phi), errors, r = _h2()
    sensitivities = {
        "resistance": [cos(phi) / i, -v * cos(phi) / i**2, -v * sin(phi) / i],
        "reactance": [sin(phi) / i, -v * sin(phi) / i**2, v * cos(phi) / i],
        "impedance": [1 / i, -v / i**2, 0],
    }[quantity]

    found = combined_standard_uncertainty(
        errors, sensitivities, {(0, 1): r[0, 1], (0, 2): r[0, 2], (1, 2): r[1, 2]}
    )

    # printed to six digits (the guide's own table: 0.071, 0.295, 0.236)
    assert found == pytest.approx(uncertainty, rel=2e-5)


def test_correlated_inputs_agree_with_another_program():
    means, errors, r = _h2()
    v, i, _ = correlated_values(means, r * np.outer(errors, errors))

    found = combined_standard_uncertainty(
        errors[:2], [1 / means[1], -means[0] / means[1] ** 2], {(0, 1): r[0, 1]}
    )

    assert found == pytest.approx((v / i).std_dev, rel=1e-9)


def test_small_cases_of_the_published_values():
    # girth 380 ± 3 to its radius, 0.4775; length 420 ± 2 less a gap of 25 ± 1.5, 2.5
    assert combined_standard_uncertainty([3], [1 / (2 * pi)]) == pytest.approx(0.4775, abs=5e-5)
    assert combined_standard_uncertainty([2, 1.5], [1, -1]) == pytest.approx(2.5, rel=1e-15)


# Standard uncertainties of the design: apex 3 mm, rim 2 mm, one reading of the tape 1.5 mm; a girth's place 2 mm,
# one reading 2 mm. Shared marks don't shrink with repeats, readings do.
PARTS = {"length": ([3.0, 2.0], 1.5), "girth": ([2.0], 2.0)}
PRINTED = {("length", 2): 7.517, ("girth", 2): 4.899}  # the third worked case of the design, three decimals


@pytest.mark.parametrize("readings", [1, 2, 3])
@pytest.mark.parametrize("measure", PARTS)
def test_book_has_the_law_s_uncertainty(measure, readings):
    shared, tape = PARTS[measure]
    texts = ["400", "400", "400"][:readings]
    found = reckon(entry_with({"length": texts, "girth": texts}), catalogue())[f"{measure}_U_mm"]

    law = 2 * combined_standard_uncertainty([*shared, tape / sqrt(readings)])
    taken = sum(ufloat(400, tape) for _ in range(readings)) / readings
    other_program = 2 * (taken + sum(ufloat(0, u) for u in shared)).std_dev
    # the result holds 0.001 mm
    assert found == pytest.approx(law, abs=5.1e-4)
    assert found == pytest.approx(other_program, abs=5.1e-4)
    assert found == pytest.approx(PRINTED.get((measure, readings), found), abs=1e-9)


@pytest.mark.parametrize(
    ("name", "odd"),
    [
        (name, odd)
        for name in ("uncertainties", "sensitivities", "correlations")
        for odd in (float("nan"), float("inf"), True, "3", None, 1e300)
    ]
    + [("uncertainties", -1), ("correlations", 1.01)],
)
def test_odd_inputs_are_refused_by_name(name, odd):
    inputs = {"uncertainties": [3, 2], "sensitivities": [1, 1], "correlations": {(0, 1): 0.5}}
    changed = {(0, 1): odd} if name == "correlations" else [1, odd]

    with pytest.raises(OutOfRange, match=f"^{name} is"):
        combined_standard_uncertainty(**(inputs | {name: changed}))


@pytest.mark.parametrize("pair", [(0, 0), (0, 2), (-1, 0)])
def test_a_correlation_is_of_two_inputs(pair):
    with pytest.raises(OutOfRange, match=r"^correlations is"):
        combined_standard_uncertainty([3, 2], [1, 1], {pair: 0.5})


def test_each_input_has_one_sensitivity():
    with pytest.raises(OutOfRange, match=r"^sensitivities is"):
        combined_standard_uncertainty([3, 2], [1])
