import pytest

from orders.check_trial import try_check, try_question
from orders.rulebook.expression import ExpressionError
from orders.rulebook.givens import BookError
from tests.orders.entries import catalogue, entry_with

TARN = catalogue()
# 400 mm taken, a solid ankle's 12.7 mm left open: made 387 long (worked by hand).
ENTRY = entry_with({"length": ["400", "400"]})
CHECK = {
    "id": "own.short",
    "level": "explain",
    "when": "less(finished_length_mm, 388.0)",
    "says": "{finished_length_mm} is short for our mould.",
    "do": "Ring us.",
    "at": "length",
    "source": "our mould",
}


def test_a_question_is_answered_with_the_numbers_it_saw():
    trial = try_question("less(finished_length_mm, 388.0) && ankle == 'solid'", ENTRY, TARN)

    assert trial.holds is True
    assert trial.seen == {"ankle": "solid", "finished_length_mm": "387\u00a0mm"}
    assert try_question("less(finished_length_mm, 387.0)", ENTRY, TARN).holds is False


def test_a_question_about_what_was_not_measured_keeps_quiet():
    trial = try_question("more(stature_mm, 1500.0)", ENTRY, TARN)

    assert trial.holds is None
    assert trial.seen == {"stature_mm": "?"}


def test_a_mistake_in_a_question_is_pointed_at():
    with pytest.raises(ExpressionError) as error:
        try_question("less(finished_length, 388.0)", ENTRY, TARN)

    assert (error.value.place, error.value.says) == (6, "nothing is called “finished_length”.")


def test_a_check_says_what_the_clinician_would_read():
    trial = try_check(CHECK, ENTRY, TARN)

    assert (trial.holds, trial.flag.says) == (True, "387\u00a0mm is short for our mould.")
    assert try_check(CHECK | {"when": "less(finished_length_mm, 387.0)"}, ENTRY, TARN).flag is None


def test_a_check_that_cannot_be_used_says_which_part_and_where():
    with pytest.raises(BookError) as error:
        try_check(CHECK | {"says": "{made_mm} is short."}, ENTRY, TARN)
    assert (error.value.part, error.value.place) == ("says", None)

    with pytest.raises(BookError) as error:
        try_check(CHECK | {"when": "finished_length_mm < 388.0"}, ENTRY, TARN)
    assert (error.value.part, error.value.place) == ("when", 20)
