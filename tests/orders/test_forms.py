"""What the forms make of what is typed. An inch is 25.4 mm exactly (international yard and pound agreement, 1959)."""

from fractions import Fraction

import pytest
from django.forms import ValidationError

from orders.asking import subjects
from orders.changes import shells_of
from orders.forms import QueryForm, TapeField, WhatIfForm
from tests import factories

STARTED = {"gap": "19", "girth": "375", "upper_strap": "60", "lower_strap": "60", "wall": "thin"}
WALLS = [{"key": "thin", "label": "Thin", "wall_mm": 4.0}, {"key": "2.5 mm", "label": "Zäh", "wall_mm": 2.5}]


@pytest.mark.parametrize(
    ("typed", "said", "mm"),
    [
        ("22", "22 mm", Fraction(22)),
        ("22,5", "22,5 mm", Fraction(45, 2)),
        (" 2.2 cm ", "2.2 cm", Fraction(22)),
        ('7/8"', '7/8"', Fraction(254, 10) * Fraction(7, 8)),
    ],
)
def test_a_length_keeps_its_text_with_a_unit_and_is_exact(typed, said, mm):
    assert TapeField(label="Gap").clean(typed) == (said, mm)


def test_nothing_typed_is_no_length_and_nonsense_is_refused():
    assert TapeField(label="Gap").clean("  ") is None
    with pytest.raises(ValidationError):
        TapeField(label="Gap").clean("about 22")


def wished(**typed):
    form = WhatIfForm({**STARTED, **typed}, started=STARTED, walls=WALLS)
    form.is_valid()
    return form.wished


def test_only_what_differs_and_can_be_read_is_tried():
    assert wished() == {}
    assert wished(gap="", girth="about 380", wall="brick") == {}
    assert wished(gap="22", girth="38 cm", wall="2.5 mm") == {
        "gap": "22 mm",
        "girth": "38 cm",
        "wall": "2.5 mm",
    }


def test_a_strap_is_tried_at_its_place_in_mm():
    assert wished(upper_strap='2 1/2"', lower_strap="7 cm") == {"upper_strap": 63.5, "lower_strap": 70.0}


@pytest.fixture
def asking(clinician, fabricator):
    """The form of an order for two shells; the right one alone has service points."""
    point = {"what": "charging port", "side": "rear", "below_apex": "76 mm", "stays_open": False}
    entries = (
        factories.entry(),
        factories.entry(
            side="right", service_points=[point], answers={"service.covered": "Reached from below."}
        ),
    )
    revision = factories.order(clinician, fabricator.organisation, *entries).current
    shells = shells_of(revision)
    known = {shell.side: subjects(shell.entry, shell.catalogue, ()) for shell in shells}

    def form(side="left", field="length", text="To the rim?", **more):
        data = {"revision": "1", "side": side, "field": field, "text": text, **more}
        return QueryForm(data, known=known, shells=shells, side=side, about=field)

    return form


def test_a_shell_is_asked_about_what_its_own_entry_holds(asking):
    assert asking("right", "service_points").is_valid()
    assert list(asking("left", "service_points").errors) == ["field"]


@pytest.mark.parametrize(
    ("text", "wrong"), [("ab", True), ("abc", False), ("x" * 500, False), ("x" * 501, True)]
)
def test_a_question_has_three_to_five_hundred_characters(asking, text, wrong):
    assert ("text" in asking(text=text).errors) is wrong


def test_a_proposal_is_read_for_the_shell_that_is_asked_about(asking):
    proposed = asking("right", "shell.wall", proposed="thick")

    assert "proposed" not in proposed.errors
    assert proposed.cleaned_data["proposed"]


def test_a_proposal_for_what_can_not_be_asked_is_not_read_at_all(asking):
    assert list(asking("left", "toes", proposed="22 mm").errors) == ["field"]
