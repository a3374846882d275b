import pytest
from django.utils import translation

from capture.sheet_fields import BY_KEY
from orders import wording
from orders.reckoning.entry import FIELDS
from tests import factories

CATALOGUE = {
    "walls": [{"key": "thin", "label": "Thin"}],
    "rears": [],
    "tops": [],
    "colours": [],
    "finishes": [],
}


@pytest.mark.parametrize(
    ("path", "value", "unit", "words"),
    [
        ("length", ["16 1/2", "16 5/8"], "in", "16 1/2 in and 16 5/8 in"),
        ("length", ["394", "395", "39.6 cm"], "mm", "394 mm, 395 mm, 39.6 cm"),
        ("girth", ["38.5 cm"], "in", "38.5 cm"),
        ("knee.hardware_length", None, "in", "not given"),
        ("foot.axis_above_rim", "-20", "mm", "-20 mm"),
        ("length", ["about 400"], "mm", "about 400"),
        ("knee.pivots_seen", "one", "in", "one pin"),
        ("person.k_level", "K3", "in", "K3"),
        ("person.heavy_wear", True, "in", "yes"),
        ("person.heavy_wear", False, "in", "no"),
        ("knee.max_flexion_deg", 130, "in", "130°"),
        ("person.body_mass_kg", 71.5, "in", "71.5 kg"),
        ("shell.wall", "thin", "in", "Thin"),
        ("shell.wall", "of last year", "in", "of last year"),
        ("service_points", [], "in", "nothing"),
        (
            "service_points",
            [{"what": "charging port", "side": "rear", "below_apex": "3", "stays_open": True}],
            "in",
            "charging port, rear, 3 in below the apex, stays open",
        ),
        (
            "extra_girths",
            [{"above_floor": "5 in", "girth": "9 1/4"}],
            "in",
            "9 1/4 in at 5 in above the floor",
        ),
        ("pivots.upper_front.forward", "20", "mm", "20 mm"),
    ],
)
def test_answer_reads_as_a_person_would_say_it(path, value, unit, words):
    assert wording.words_of(path, value, unit, CATALOGUE) == words


def test_every_field_of_an_entry_has_a_name_of_its_own():
    named = set(BY_KEY) | set(wording.OTHER_LABELS) | wording.NOT_ANSWERS
    answered = {path for path in FIELDS if not any(other.startswith(f"{path}.") for other in FIELDS)}

    assert len(answered) > 60
    assert answered - named == set()


def test_every_choice_of_an_entry_is_said_in_other_words_than_the_programs():
    for field in BY_KEY.values():
        for choice in field.choices if field.kind == "choice" else ():
            assert "_" not in wording.words_of(field.key, choice.value, "mm", CATALOGUE)


def test_entry_is_answered_in_its_own_order_and_without_what_is_no_answer():
    entry = factories.entry(answers={"gap.tight": "because"}, gap=None)

    paths = [answer.path for answer in wording.answers(entry, CATALOGUE)]

    assert paths[:4] == ["side", "units", "level", "other_leg"]
    assert not {"schema", "reference", "answers", "gap"} & set(paths)
    assert "second_route.rim_to_floor" in paths


@pytest.mark.parametrize(
    ("words", "within"),
    [("Hardware length", "hardware length"), ("A photo", "a photo"), ("K3", "K3"), ("PDF", "PDF"), ("", "")],
)
def test_words_within_a_sentence_lose_the_capital_of_its_beginning(words, within):
    assert wording.uncapitalised(words) == within


def test_german_nouns_keep_their_capital():
    with translation.override("de"):
        assert wording.uncapitalised("Spalt") == "Spalt"
