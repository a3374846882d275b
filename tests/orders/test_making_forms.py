"""What the views' and the inspection's tests don't reach: what a form shows of what it was given."""

import pytest

from orders.changes import shells_of
from orders.making_forms import InspectionForm
from tests import factories

TYPED = {
    "left-unit": "mm", "left-length_0": "385", "left-girth_0": "390", "left-upper_strap_0": "60",
    "left-lower_strap_0": "60", "left-mass": "450", "left-decision": "", "left-reason": "",
}  # fmt: skip


@pytest.fixture
def shell(clinician, fabricator):
    return shells_of(factories.order(clinician, fabricator.organisation).current)[0]


def test_every_figure_that_misses_is_named(shell):
    missed = InspectionForm(TYPED, shell=shell)

    assert missed.errors["decision"] == [
        "Beyond its limits: Length, Girth. Accept it with a reason, or make it again."
    ]


def test_blanks_are_no_reason(shell):
    blank = InspectionForm({**TYPED, "left-decision": "accepted", "left-reason": " \t "}, shell=shell)

    assert list(blank.errors) == ["reason"]


def test_each_input_of_a_row_has_a_name_of_its_own(shell):
    row = str(InspectionForm(shell=shell)["girth"])

    assert [f'aria-label="Girth, reading {number}"' in row for number in (1, 2, 3)] == [True] * 3


def test_a_bare_number_is_in_the_unit_that_was_chosen(shell):
    typed = {"length_0": "15 in", "girth_0": "37.5", "upper_strap_0": "6", "lower_strap_0": "6.05"}
    chosen = InspectionForm(
        {**TYPED, "left-unit": "cm", **{f"left-{key}": text for key, text in typed.items()}}, shell=shell
    )

    assert list(chosen.errors) == []
    measured = {line.key: float(line.measured) for line in chosen.lines}
    assert measured == pytest.approx(
        {"length": 381, "girth": 375, "upper_strap": 60, "lower_strap": 60.5, "mass": 450}
    )
