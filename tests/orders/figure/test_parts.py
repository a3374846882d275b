"""How the leg's own parts are drawn: what nobody measured as assumed, what moves with its arrow and its other place."""

import xml.etree.ElementTree as ET

import pytest

from orders.figure import draw, guide, scene_of
from tests.orders.figure.scenes import ENTRY, RESULT, TARN


def classes(scene: dict) -> set[str]:
    elements = ET.fromstring(draw(scene)).iter()
    return set().union(*((element.get("class") or "").split() for element in elements))


@pytest.mark.parametrize(
    ("foot", "assumed"),
    [
        ({"profile": "high", "hardware_above_rim": "3"}, False),
        ({"profile": "high"}, True),
        ({"profile": "low"}, False),
    ],
)
def test_a_high_foot_whose_height_nobody_measured_is_drawn_as_assumed(foot, assumed):
    entry = {**ENTRY, "foot": {"ankle": "solid", **foot}}

    assert ("fg-assumed" in classes(scene_of(entry, RESULT, TARN))) is assumed


@pytest.mark.parametrize(
    ("ankle", "moves"), [("solid", False), ("spring", True), ("jointed", True), ("wide", True)]
)
def test_an_ankle_that_moves_has_its_arrow_and_the_foot_s_other_place(ankle, moves):
    kinds = classes(guide("foot.ankle", {**ENTRY, "foot": {"profile": "low", "ankle": ankle}}, RESULT))

    assert ("fg-arrow" in kinds, "fg-ghost" in kinds) == (moves, moves)
