"""The twins draw the same text, and the text is a drawing that says where things are."""

import math
import re
import xml.etree.ElementTree as ET

import pytest

from orders.figure import draw, scene_of
from orders.figure.data import FIGURE
from orders.figure.pen import letters_px
from tests.orders.figure import scenes as sample

SVG = "{http://www.w3.org/2000/svg}"
ALL = sample.all_scenes()


def points_of(d: str) -> list[tuple[float, float]]:
    """Every point of a path of ours, which has only M, L, C and Z."""
    numbers = [float(number) for number in re.findall(r"-?\d+\.?\d*", d)]
    return list(zip(numbers[::2], numbers[1::2], strict=True))


def drawn(scene: dict) -> ET.Element:
    return ET.fromstring(draw(scene))


def by_class(root: ET.Element, name: str) -> list[ET.Element]:
    return [element for element in root.iter() if name in (element.get("class") or "").split()]


def test_there_are_enough_scenes_to_hold_the_twins_to():
    assert len(ALL) >= 120


def test_twins_draw_the_same_text(js):
    texts = js("figure/leg.js").map("draw", [[scene] for scene in ALL.values()])

    differing = [name for name, text in zip(ALL, texts, strict=True) if text != draw(ALL[name])]
    assert differing == []


@pytest.mark.parametrize("name", ALL)
def test_drawing_is_well_formed_and_has_classes_only(name):
    text = draw(ALL[name])

    root = ET.fromstring(text)
    assert "style" not in {key for element in root.iter() for key in element.attrib}
    assert not [element for element in root.iter() if element.tag == f"{SVG}style"]
    assert "nan" not in text.lower().replace("anatom", "")
    assert {element.get("fill") for element in root.iter()} == {None}


@pytest.mark.parametrize("fit", [(120, 160), (160, 250), (214, 336)])
def test_names_stay_inside_the_narrowest_guide_drawing(fit):
    """About: letters are taken to be as wide as they are on average, for which a hair's breadth is left."""
    beyond = {}
    for name, scene in ALL.items():
        if scene["purpose"] == "guide":
            root = drawn({**scene, "fit": fit})
            width = float(root.get("viewBox").split()[2])
            for text in root.iter(f"{SVG}text"):
                wide = letters_px(text.text)
                left = (
                    float(text.get("x"))
                    - {"start": 0, "middle": wide / 2, "end": wide}[text.get("text-anchor")]
                )
                beyond[f"{name}: {text.text}"] = max(-left, left + wide - width)

    assert len(beyond) > 60
    assert {name: px for name, px in beyond.items() if px > 1} == {}


@pytest.mark.parametrize("name", ALL)
def test_every_drawing_says_what_it_shows_or_is_hidden(name):
    root = drawn(ALL[name])

    title = root.findtext(f"{SVG}title")
    if ALL[name]["title"]:
        assert (root.get("role"), title) == ("img", ALL[name]["title"])
    else:
        assert (root.get("aria-hidden"), title) == ("true", None)


def test_description_names_dimensions_with_units_and_flags():
    root = drawn(ALL["scale left both few"])

    said = root.findtext(f"{SVG}desc")
    assert said == "Finished length 401 mm, Gap 19.1 mm. Flags 1, 2, 3."


@pytest.mark.parametrize("side", ["left", "right"])
def test_dimensions_are_as_long_as_their_values(side):
    root = drawn(ALL[f"scale {side} both all"])
    px_per_mm = float(root.get("data-px-per-mm"))

    lengths = {}
    for group in by_class(root, "fg-dimension"):
        if group.get("data-of") == "girth" or group.get("data-of").startswith("clear"):
            continue
        levels = []
        for slash in by_class(group, "fg-slash"):
            (_, a), (_, b) = points_of(slash.get("d"))
            levels.append((a + b) / 2)
        lengths[group.get("data-of")] = abs(levels[1] - levels[0]) / px_per_mm

    # A tenth of a pixel of rounding at either end, at about a pixel to 1.6 mm.
    expected = {
        "finished_length": 401, "gap": 19.05, "hardware_length": 107.95, "upper_strap": 130.45,
        "strap_spacing": 190.9, "lower_strap": 79.65, "hardware_above_rim": 76.2,
    }  # fmt: skip
    assert lengths == pytest.approx(expected, abs=0.4)


def test_shell_is_as_wide_and_as_deep_as_its_girth_makes_it():
    root = drawn(ALL["scale left both few"])
    px_per_mm = float(root.get("data-px-per-mm"))
    side, front = (points_of(shell.get("d")) for shell in by_class(root, "fg-shell"))

    xs = [x for x, _ in front]
    rear = [x for x, y in side]
    # look.md, for a girth of 385: 127 deep and 119 wide at the widest, 46 to 49.5 mm of it in front of the axis.
    assert (max(xs) - min(xs)) / px_per_mm == pytest.approx(119, abs=1)
    assert (max(rear) - min(rear)) / px_per_mm == pytest.approx(49.5 + 127.4 - 47.5, abs=2)


def test_girth_line_reaches_just_past_both_sides():
    root = drawn(ALL["scale left both all"])
    line = next(g for g in by_class(root, "fg-dimension") if g.get("data-of") == "girth")
    xs = [x for x, _ in points_of(by_class(root, "fg-shell")[1].get("d"))]

    (ax, _), (bx, _) = points_of(by_class(line, "fg-axis")[0].get("d"))
    assert (min(xs) - ax, bx - max(xs)) == (pytest.approx(7, abs=2), pytest.approx(7, abs=2))


def test_outline_runs_through_the_sections_that_were_reckoned():
    """The widest section's front line and rear lie on the drawn outline, to the spline's half millimetre."""
    scene = ALL["high-foot at tarn-street-moulding-room"]
    root = drawn(scene)
    px_per_mm = float(root.get("data-px-per-mm"))
    section = max(
        scene["shell"]["stations"], key=lambda row: row["depth_mm"] if row["below_top_mm"] > 100 else 0
    )

    xs = [x for x, _ in points_of(by_class(root, "fg-shell")[0].get("d"))]
    fronts = [row["front_mm"] for row in scene["shell"]["stations"]]
    # The handles of the curve stand out a little past the sections themselves.
    assert (max(xs) - min(xs)) / px_per_mm == pytest.approx(max(fronts) - section["rear_mm"], abs=1.5)


def test_tape_on_the_length_is_as_long_as_the_length():
    root = drawn(ALL["guide length left"])

    tape = by_class(root, "fg-tape")[0]
    length_mm = float(tape.get("height")) / float(root.get("data-px-per-mm"))
    assert length_mm == pytest.approx(420.688, abs=0.3)


def test_tape_is_graduated_in_the_unit_typed():
    in_inches, in_mm = drawn(ALL["guide length left"]), drawn(ALL["guide length right"])

    # 16.56 in hold three marks at 5, 10 and 15 in; 394 mm hold seven at every 5 cm.
    assert len(by_class(in_inches, "fg-long")) == 3
    assert len(by_class(in_mm, "fg-long")) == 7


def test_second_route_tapes_stand_on_the_floor():
    for key in ("apex_to_floor", "rim_to_floor"):
        root = drawn(ALL[f"guide second_route.{key} left"])
        tape, floor = by_class(root, "fg-tape")[0], by_class(root, "fg-floor")[0]

        bottom = float(tape.get("y")) + float(tape.get("height"))
        assert bottom == pytest.approx(points_of(floor.get("d"))[0][1], abs=0.15)


@pytest.mark.parametrize("name", [name for name in ALL if name.startswith("guide ")])
def test_only_the_tape_and_its_marks_are_yellow(name):
    root = drawn(ALL[name])

    if ALL[name]["dots"]:  # where the places are marked, their dots are the measurement's only marks
        assert len(by_class(root, "fg-mark")) == len(ALL[name]["dots"])
        assert not by_class(root, "fg-measure")
        return
    for yellow in by_class(root, "fg-tape") + by_class(root, "fg-mark") + by_class(root, "fg-tick"):
        assert any(yellow in group.iter() for group in by_class(root, "fg-measure"))
    assert len(by_class(root, "fg-measure")) <= 1


def test_right_leg_mirrors_the_left_but_for_its_lettering():
    """Twice as many px per mm as anywhere else, so that a tenth of a px of rounding doesn't hide a slip."""
    left, right = (
        ET.fromstring(draw({**ALL[f"scale {side} both all"], "fit": [1100, 1340]}))
        for side in ("left", "right")
    )
    width = float(left.get("viewBox").split()[2])

    for a, b in zip(left.iter(), right.iter(), strict=True):
        assert (a.tag, a.get("class")) == (b.tag, b.get("class"))
        if a.tag == f"{SVG}path" and "fg-grid" not in a.get("class"):
            mirrored = [(width - x, y) for x, y in points_of(b.get("d"))]
            assert sum(mirrored, ()) == pytest.approx(sum(points_of(a.get("d")), ()), abs=0.11)
        if a.tag == f"{SVG}text":
            assert a.text == b.text or a.text.startswith("left")
            assert "scale" not in (b.get("transform") or "")


def test_side_views_point_their_way():
    for side, way in (("left", -1), ("right", 1)):
        root = drawn(ALL[f"mark {side}"])
        shoe = by_class(root, "fg-mark-shoe")[0]
        tube = points_of(by_class(root, "fg-mark-tube")[0].get("d"))[0][0]

        toe = max((x for x, _ in points_of(shoe.get("d"))), key=lambda x: abs(x - tube))
        assert (toe - tube) * way > 0


@pytest.mark.parametrize("at", FIGURE["places"])
@pytest.mark.parametrize("view", ["side", "front", "both"])
def test_every_flag_has_its_place_inside_the_picture(at, view):
    scene = scene_of(sample.ENTRY, sample.RESULT, sample.TARN, view=view)
    root = drawn({**scene, "flags": [{"n": 7, "level": "stop", "at": at}]})
    width, height = (float(size) for size in root.get("viewBox").split()[2:])

    flag = by_class(root, "fg-flag")[0]
    assert flag.findtext(f"{SVG}text") == "7"
    dots = by_class(flag, "fg-dot")
    assert len(dots) == (0 if at == "none" else 1)
    for dot in dots:
        assert 0 < float(dot.get("cx")) < width
        assert 0 < float(dot.get("cy")) < height


def test_a_stop_inks_its_edge_again_and_an_explain_does_not():
    scene = {**scene_of(sample.ENTRY, sample.RESULT, sample.TARN), "flags": []}
    for level, edges in (("stop", 1), ("explain", 0), ("note", 0)):
        root = drawn({**scene, "flags": [{"n": 1, "level": level, "at": "rear_end"}]})

        assert len(by_class(root, "fg-stop-edge")) == edges


def test_flags_in_one_column_stand_clear_of_each_other():
    root = drawn(ALL["every flag"])

    spots = []
    for flag in by_class(root, "fg-flag"):
        text = flag.find(f"{SVG}text")
        spots.append((float(text.get("x")), float(text.get("y"))))
    assert len(set(spots)) == len(spots)


@pytest.mark.parametrize("side", ["left", "right"])
@pytest.mark.parametrize("dims", ["few", "all"])
@pytest.mark.parametrize("width", [320, 375, 412, 528])
def test_no_flag_covers_a_figure(side, dims, width):
    """As on the narrowest phone, on others and beside the check on a desk, with every place flagged once."""
    entry = {**sample.ENTRY, "side": side}
    scene = scene_of(entry, sample.RESULT, sample.TARN, dims=dims, fit=(width, width * 1.1))
    flags = [{"n": 1, "level": "explain", "at": at} for at in FIGURE["places"]]

    for flag in flags:
        root = drawn({**scene, "flags": [flag]})
        shape = by_class(root, "fg-flag")[0].find(f"{SVG}text")
        x, y = float(shape.get("x")), float(shape.get("y")) - 5
        for value in by_class(root, "fg-value"):
            across, down = gap_to(value, x, y)
            assert max(across, down) >= 16, (flag["at"], value.text)  # 15 of the diamond and its line


def gap_to(value, x: float, y: float) -> tuple[float, float]:
    """How far a point lies beside a value's letters, across and down: 8 px a digit, 12 px high. [px]"""
    long, at_x, at_y = 8 * len(value.text), float(value.get("x")), float(value.get("y"))
    if value.get("transform"):
        box = (at_x - 11, at_y - long / 2, at_x, at_y + long / 2)
    else:
        left = at_x - {"start": 0, "middle": long / 2, "end": long}[value.get("text-anchor")]
        box = (left, at_y - 11, left + long, at_y)
    return max(box[0] - x, x - box[2], 0), max(box[1] - y, y - box[3], 0)


def test_rear_end_is_drawn_where_the_reach_says():
    """The re-inked rear runs to 0.62 of 401 mm below the apex, give or take the sweep's first bend."""
    root = drawn(ALL["scale left both few"])
    px_per_mm = float(root.get("data-px-per-mm"))
    top = by_class(root, "fg-slash")[0]
    apex_y = sum(y for _, y in points_of(top.get("d"))) / 2

    lowest = max(y for _, y in points_of(by_class(root, "fg-stop-edge")[0].get("d")))
    assert (lowest - apex_y) / px_per_mm == pytest.approx(0.62 * 401, abs=9)


def test_a_place_that_nobody_knows_is_refused():
    scene = {
        **scene_of(sample.ENTRY, sample.RESULT, sample.TARN),
        "flags": [{"n": 1, "level": "note", "at": "toe"}],
    }

    with pytest.raises(KeyError):
        draw(scene)


def test_a_bent_knee_with_four_pins_keeps_its_links_as_long_as_they_are():
    """A link is rigid: between its two pins it is as long bent as straight, here to what the drawing rounds off."""

    def links(posture):
        pins = [
            tuple(float(number.removesuffix("k")) for number in part["c"].split(","))
            for part in FIGURE["parts"]
            if part["id"] == "knee.pin" and part["when"]["pins"] == ["several"]
            if posture in part["when"].get("posture", [posture])
        ]
        assert len(pins) == 4
        fixed = {(20.0, 36.0), (-26.0, 48.0)}
        front, rear = (pin for pin in pins if pin not in fixed)
        return math.dist(front, (20, 36)), math.dist(rear, (-26, 48))

    assert links("seated") == pytest.approx(links("standing"), abs=0.1)


def test_what_is_left_clear_is_told_where_it_is_downwards():
    """7.9 mm is told as 7: more than there is would mislead; less than nothing is told as such."""
    root = drawn({**scene_of(sample.ENTRY, sample.RESULT, sample.TARN, dims="all"), "fit": [900, 900]})

    told = {
        group.get("data-of"): next(group.iter(f"{SVG}text")).text
        for group in by_class(root, "fg-dimension")
        if group.get("data-of").startswith("clear")
    }
    assert told == {"clear_knee": "7 clear", "clear_foot": "1 overlap", "clear_stop": "4 clear"}


@pytest.mark.parametrize(
    ("foot_mm", "lettered", "told"),
    [
        (-0.4, "1 overlap", "Overlap at the foot's mechanism 1 mm"),
        (-12.0, "12 overlap", "Overlap at the foot's mechanism 12 mm"),
        (0.0, "0 clear", "Clear round the foot's mechanism 0 mm"),
        (7.9, "7 clear", "Clear round the foot's mechanism 7 mm"),
    ],
)
def test_who_hears_the_drawing_is_told_what_its_lettering_says(foot_mm, lettered, told, js):
    result = {**sample.RESULT, "clearances": {"foot_mm": foot_mm}}
    scene = {**scene_of(sample.ENTRY, result, sample.TARN, dims="all"), "fit": [900, 900]}

    root = drawn(scene)

    group = next(group for group in by_class(root, "fg-dimension") if group.get("data-of") == "clear_foot")
    assert next(group.iter(f"{SVG}text")).text == lettered
    assert told in root.find(f"{SVG}desc").text
    assert js("figure/leg.js").call("draw", scene) == draw(scene)
