import json
import re

import pytest

from orders.changes import Shell
from orders.handout_steps import length_words, step_off, steps_on
from orders.reckon import reckon
from tests import factories


def shell(**changes):
    entry = factories.entry(**changes)
    catalogue = json.loads((factories.CATALOGUES / "tarn-street-moulding-room.json").read_text())
    return Shell(entry, reckon(entry, catalogue), catalogue)


HIGH = {"foot": {"profile": "high", "ankle": "jointed", "hardware_above_rim": "3"}}
# 350 mm, spring, hardware 150 mm: the upper strap lies at 172.5 of 330 mm, below the middle, so a pad is advised.
PADDED = {
    "units": "mm",
    "length": ["350"],
    "second_route": None,
    "girth": ["380"],
    "foot": {"profile": "low", "ankle": "spring"},
    "knee": {"control": "microprocessor", "hardware_length": "150"},
}


def step(key, **changes):
    return next(step for step in steps_on(shell(**changes)) if step.key == key)


def test_steps_come_in_their_order():
    assert [step.key for step in steps_on(shell())] == [
        "sit",
        "straight",
        "round",
        "lower",
        "upper",
        "ends",
        "walk",
    ]


@pytest.mark.parametrize("changes", [{}, HIGH, PADDED, {"shell": {"top": "cut_down"}}])
def test_each_step_is_at_most_three_short_sentences(changes):
    this = shell(**changes)

    for step in [*steps_on(this), step_off(this)]:
        assert 1 <= len(step.sentences) <= 3
        for sentence in step.sentences:
            assert sentence.endswith(".")
            assert sentence.count(". ") == 0
            assert len(sentence.split()) <= 20
        assert step.drawing.startswith("<svg ")


def test_lower_strap_carries_the_shell_and_comes_before_the_upper():
    keys = [step.key for step in steps_on(shell())]

    assert keys.index("lower") < keys.index("upper")
    assert step("lower").sentences[:2] == (
        "It carries the shell.",
        "Pull until the shell no longer turns when you twist it by hand.",
    )


def test_lower_strap_of_a_high_foot_lies_above_its_moving_part():
    assert step("lower", **HIGH).sentences[2] == "It must lie above the moving part of the foot."
    assert step("lower").sentences[2] == "Its buckle is on the outer side of the leg."
    assert (
        step("lower", shell={"buckle_side": "inner"}).sentences[2]
        == "Its buckle is on the inner side of the leg."
    )


def test_powered_knee_is_switched_off_and_on_again():
    assert "Then switch the knee off, as your clinic showed you." in step("straight", **PADDED).sentences
    assert step("walk", **PADDED).sentences[0] == "Switch the knee on again."
    assert "If a part of your leg has power, switch it off." in step("straight").sentences
    assert step("walk").sentences[0] == "Switch on again what you switched off."


def test_gap_is_this_shells_own_in_the_persons_unit():
    assert "13 mm (1/2 in) stay open above the foot" in step("round").sentences[1]  # solid ankle: 12.7 mm
    assert "19 mm stay open above the foot" in step("round", **PADDED).sentences[1]  # spring: 19.05 mm
    assert length_words(19.05, "in") == "19 mm (3/4 in)"


def test_top_is_told_by_pad_and_cut():
    assert len(step("round").sentences) == 2
    assert (
        step("round", shell={"top": "cut_down"}).sentences[2]
        == "The edge that is cut down is the top, at the front."
    )
    assert step("round", **PADDED).sentences[2] == "The foam pad sits inside the top, at the front."
    both = step("round", **PADDED, shell={"top": "cut_down"}).sentences[2]
    assert both == "The low edge is the top front, and the foam pad sits just inside it."


def test_drawing_says_in_words_which_leg_and_what_is_done():
    assert re.search(
        "<title>Left leg, seen from the outside. The lower strap is pulled to the rear.</title>",
        step("lower").drawing,
    )
    assert "<title>Right leg, seen from the outside." in step("lower", side="right").drawing
