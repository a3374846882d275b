"""The phone's sentences: the phone has each that it may ask for, fills in what each names, and carries none in vain."""

import re
from pathlib import Path

import pytest

from capture.seal import VIEWS
from capture.sheet_fields import FIELDS
from capture.sheet_words import WORDS
from orders.models import Order
from orders.reckoning.entry import ENTRY

STATIC = Path(__file__).resolve().parents[2] / "static"
MODULES = "".join(file.read_text(encoding="utf-8") for file in sorted((STATIC / "js").rglob("*.js")))
# Made of a beginning and of what it is about, as `state_${state}`.
PUT_TOGETHER = set(re.findall(r"say\(`(\w+_)\$\{", MODULES))


def begun(beginning: str) -> set[str]:
    """What the words that begin so are about."""
    return {key.removeprefix(beginning) for key in WORDS if key.startswith(beginning)}


@pytest.mark.parametrize(
    ("beginning", "about"),
    [
        ("state_", set(Order.State.values)),
        ("view_", set(VIEWS)),
        ("side_", set(ENTRY.fields["service_points"].item.fields["side"].words)),
    ],
)
def test_each_state_view_and_side_has_its_word_and_no_other(beginning, about):
    assert beginning in PUT_TOGETHER
    assert begun(beginning) == about


def test_each_unit_of_a_number_has_its_word():
    units = {field.unit for field in FIELDS if field.unit}

    assert units
    assert units == begun("unit_")


def test_each_sentence_is_given_the_values_it_names():
    """Where they stand beside it; a name that isn't filled in would be read out as {name}."""
    lacking, seen = [], 0
    for key, given in re.findall(r'say\("(\w+)"(?:, \{([^{}]*)\})?\)', MODULES):
        names = set(re.findall(r"\{(\w+)\}", WORDS[key]))
        seen += bool(names)
        if not names <= set(re.findall(r"(?:^|,)\s*(\w+)\s*(?=[:,]|$)", given)):
            lacking.append((key, given))

    assert seen > 40
    assert lacking == []


def test_no_sentence_is_carried_that_nothing_asks_for():
    """By its name in a module or a template, or by the beginning of one that is put together."""
    templates = "".join(
        file.read_text() for file in (STATIC.parent / "capture" / "templates").rglob("*.html")
    )
    named = set(re.findall(r"\w+", MODULES + templates))

    assert {key for key in WORDS if key not in named and not key.startswith(tuple(PUT_TOGETHER))} == set()
