import re
from xml.etree import ElementTree

import pytest

from orders.figure import scene_of
from orders.figure.steps import STEPS, draw_step
from tests.orders.figure.scenes import ENTRY, PLAIN_ENTRY, RESULT, TARN

WORDS = {
    "title": "Leg & strap",
    "lower_strap": "lower strap",
    "upper_strap": "upper strap",
    "pull": "pull",
    "pad": "foam pad",
}
HIGH = scene_of(ENTRY, RESULT, TARN, purpose="guide", view="side")
LOW = scene_of(PLAIN_ENTRY, {"foam_pad": True}, TARN, purpose="guide", view="side")
SVG = "{http://www.w3.org/2000/svg}"


def drawn(step, scene):
    return ElementTree.fromstring(draw_step(step, scene, WORDS))


def of_class(svg, name):
    return [element for element in svg.iter() if name in element.get("class", "").split()]


@pytest.mark.parametrize("scene", [HIGH, LOW], ids=["high", "low"])
@pytest.mark.parametrize("step", STEPS)
def test_each_step_has_one_arrow_one_title_and_no_style(step, scene):
    svg = drawn(step, scene)

    assert len(of_class(svg, "fg-arrow")) == 2  # its line and its head
    assert svg.find(f"{SVG}title").text == "Leg & strap"
    assert all("style" not in element.attrib for element in svg.iter())


@pytest.mark.parametrize("step", STEPS)
def test_only_the_strap_in_hand_is_yellow(step):
    yellow = of_class(drawn(step, HIGH), "fg-pull")

    assert bool(yellow) == (step in {"lower", "upper", "ends"})
    assert not of_class(drawn(step, HIGH), "fg-tape")


@pytest.mark.parametrize("step", ["lower", "upper"])
def test_strap_in_hand_lies_where_this_shell_has_it(step):
    svg = drawn(step, HIGH)
    strap = next(element for element in of_class(svg, "fg-pull") if element.tag == f"{SVG}rect")
    scale = float(strap.get("height")) / 25  # the strap is 25 mm wide
    ys = [y for _x, y in points(of_class(svg, "fg-shell")[0])]
    middle = float(strap.get("y")) + float(strap.get("height")) / 2

    # The result's own places: 130.45 mm below the top edge, 79.65 mm above the bottom edge.
    found_mm = (middle - min(ys)) / scale if step == "upper" else (max(ys) - middle) / scale
    assert found_mm == pytest.approx(130.45 if step == "upper" else 79.65, abs=1)


def points(path):
    numbers = [float(text) for text in re.findall(r"-?\d+\.?\d*", path.get("d"))]
    return list(zip(numbers[::2], numbers[1::2], strict=True))


@pytest.mark.parametrize("side", ["left", "right"])
@pytest.mark.parametrize("word", ["pull", "ziehen", "tirez vers l'arrière"])
def test_a_longer_word_beside_the_pull_stays_within_the_drawing(side, word):
    svg = ElementTree.fromstring(draw_step("lower", {**LOW, "side": side}, {**WORDS, "pull": word}))
    (text,) = of_class(svg, "fg-do")
    width = float(svg.get("viewBox").split()[2])
    half = len(word) * 18 * 0.5 / 2  # a bold sans is about half as wide as high, common practice, no source

    assert half < float(text.get("x")) < width - half


def test_right_leg_is_the_left_one_mirrored():
    left, right = (
        points(of_class(drawn("lower", {**HIGH, "side": side}), "fg-shell")[0]) for side in ("left", "right")
    )

    assert [y for _x, y in left] == [y for _x, y in right]
    assert [x for x, _y in left] == pytest.approx([380 - x for x, _y in right], abs=0.11)


def test_pad_is_drawn_and_named_only_where_this_shell_has_one():
    assert of_class(drawn("upper", LOW), "fg-foam")
    assert "foam pad" in "".join(drawn("upper", LOW).itertext())
    assert not of_class(drawn("upper", HIGH), "fg-foam")
    assert "foam pad" not in "".join(drawn("upper", HIGH).itertext())


def test_top_that_is_cut_down_changes_the_shells_outline():
    cut = {**HIGH, "shell": {**HIGH["shell"], "relief_mm": 18}}

    assert points(of_class(drawn("round", cut), "fg-shell")[0]) != points(
        of_class(drawn("round", HIGH), "fg-shell")[0]
    )


def test_shell_is_off_while_its_owner_sits_down_and_straightens_the_knee():
    assert all(not of_class(drawn(step, HIGH), "fg-shell") for step in ("sit", "straight"))
    assert all(of_class(drawn(step, HIGH), "fg-shell") for step in set(STEPS) - {"sit", "straight"})


def test_unknown_step_is_refused():
    with pytest.raises(KeyError):
        draw_step("dance", HIGH, WORDS)
