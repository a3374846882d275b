import pytest

from orders.changes import shells_of
from orders.handout_page import (
    call_address,
    calls,
    contents,
    leaves_of_steps,
    leaves_of_words,
    linked,
    number_in,
    points_of,
)
from tests import factories


@pytest.mark.parametrize(
    ("written", "called"),
    [
        ("01632 960 147", "tel:01632960147"),
        ("+44 1632 960-147", "tel:+441632960147"),
        ("+44 (0)1632 960147", "tel:+441632960147"),
        ("+49(0) 30 23125-014", "tel:+493023125014"),
        ("(0)1632 960147", "tel:01632960147"),
        ("", ""),
        ("ask at the desk", ""),
    ],
)
def test_a_number_is_called_as_it_is_dialled(written, called):
    """RFC 3966, 5.1.4: a global number has no trunk nought; numbers that regulators keep for stories."""
    assert call_address(written) == called


@pytest.mark.parametrize(
    ("told", "number"),
    [
        ("01632 960 148, ask for the limb desk", "01632 960 148"),
        ("Evenings: +44 (0)1632 960148.", "+44 (0)1632 960148"),
        ("Mon-Fri 18-22: (01632) 960148", "(01632) 960148"),
        ("0800-1800 the ward, from 24/12/2026 nobody", ""),
        ("the ward's night desk", ""),
        ("01632 960 148 or 01632 960 149", ""),
        ("", ""),
    ],
)
def test_the_one_number_that_is_told_out_of_hours_can_be_called(told, number):
    assert number_in(told) == number


def test_a_clinic_without_numbers_is_called_nowhere():
    nowhere = {"call": "", "night_number": "", "night_call": ""}

    assert calls(None) == calls(factories.Organisation(kind="clinic")) == nowhere


@pytest.fixture
def shells(clinician, fabricator):
    """Two shells, one with something to reach on every side."""
    points = [
        {"what": what, "side": side, "below_apex": "76 mm", "stays_open": False}
        for what, side in (("port", "rear"), ("light", "front"), ("valve", "inner"), ("screw", "outer"))
    ]
    entries = (
        factories.entry(),
        factories.entry(
            side="right", service_points=points, answers={"service.covered": "Reached from below."}
        ),
    )
    return shells_of(factories.order(clinician, fabricator.organisation, *entries).current)


@pytest.mark.django_db
def test_what_must_be_reached_is_told_with_its_side_and_of_two_legs_with_the_leg(shells):
    left, right = shells

    assert points_of(left, True) == []
    assert points_of(right, False) == [
        "port, at the rear", "light, at the front", "valve, on the inner side", "screw, on the outer side",
    ]  # fmt: skip
    assert points_of(right, True)[0] == "port, at the rear, right leg"


@pytest.mark.django_db
def test_each_leaf_follows_the_one_before_from_the_first_to_the_last(shells):
    leaves = linked([*leaves_of_steps(shells), *leaves_of_words()])

    assert [leaf.back for leaf in leaves] == ["start", *(leaf.anchor for leaf in leaves[:-1])]
    assert [leaf.follows and leaf.follows.anchor for leaf in leaves] == [
        *(leaf.anchor for leaf in leaves[1:]),
        None,
    ]


@pytest.mark.django_db
def test_a_step_shows_how_far_it_is_and_what_is_no_step_shows_none(shells):
    leaves = {leaf.anchor: leaf for leaf in leaves_of_steps(shells[:1])}

    assert leaves["left-2"].ticks == [True, True, *[False] * (leaves["left-2"].of - 2)]
    assert leaves["left-off"].ticks == []


@pytest.mark.django_db
def test_contents_name_each_part_once_by_its_first_leaf(shells):
    first, *_rest = parts = contents([*leaves_of_steps(shells), *leaves_of_words()])

    assert first == ("left-1", "Putting it on, left leg")
    assert [anchor for anchor, _part in parts[:4]] == ["left-1", "left-off", "right-1", "right-off"]
    assert len({part for _anchor, part in parts}) == len(parts) == 4 + 7
