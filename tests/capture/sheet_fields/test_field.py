from capture.sheet_fields.field import KNEE, NOT_ASKED, Field
from orders.rulebook.evaluate import evaluate
from orders.rulebook.expression import read_expression


def test_words_are_all_that_is_read_before_measuring():
    """They are counted: nothing that stands beside the drawing may be left out."""
    field = Field(
        "knee.width",
        KNEE,
        "reading",
        "Knee width",
        "knee width",
        "knee.width",
        posture="Knee straight.",
        where="At its widest.",
        easy_mistake="Pressing.",
    )

    assert field.words == "Knee width Knee straight. At its widest. Pressing."


def test_field_says_of_itself_that_it_is_open_asked_demanded_and_of_the_entry():
    field = Field("knee.width", KNEE, "reading", "Knee width", "knee width", "knee.width")

    assert evaluate(read_expression(field.open_when), {}) is True
    assert evaluate(read_expression(field.asked_when), {}) is True
    assert evaluate(read_expression(NOT_ASKED), {}) is False
    assert (field.required, field.starts_at, field.home) == (True, None, "entry")
