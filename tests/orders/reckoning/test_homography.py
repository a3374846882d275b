"""A length in a photo, held to a printed homography, to OpenCV's, to rendered scenes, and to its twin."""

import cv2
import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from orders.reckoning import constants
from orders.reckoning.errors import OutOfRange
from orders.reckoning.homography import (
    Unmeasurable,
    _from_plane,
    _from_sides,
    _goes_round,
    camera_mm,
    on_plane_mm,
    photo_length,
    plane_to_photo,
)

from .published import rows
from .scenes import Scene, turned

A4 = [(0, 0), (210, 0), (210, 297), (0, 297)]
PRINTED = rows("homography")
CORNERS = [(row["px"], row["py"]) for row in PRINTED[:4]]
SIZE = (4000, 3000)
# The printed camera: 3000 px of 4000.
FOCAL = 0.75
# What 0.00005 px of rounding in a corner makes at a place within one sheet of it, with room.
ROUNDED_MM = 2e-3


def sheet_seen(scene: Scene, sheet: str = "a4", at=(0.0, 0.0), lying: bool = False) -> list[list[float]]:
    """The corners of a sheet whose upper left corner lies at a place of the plane. [px]"""
    sides = sorted(constants.SHEETS_MM[sheet][:2], reverse=lying)
    square = ((0, 0), (1, 0), (1, 1), (0, 1))
    return [scene.seen(at[0] + x * sides[0], at[1] + y * sides[1]) for x, y in square]


def measured(scene: Scene, ends, sheet: str = "a4", **where):
    return photo_length(
        sheet, scene.size, sheet_seen(scene, sheet, **where), [scene.seen(*end) for end in ends]
    )


def outcome(sheet, size, corners, ends) -> dict:
    try:
        found = photo_length(sheet, size, corners, ends)
    except Unmeasurable as refusal:
        return {"why": refusal.why}
    return {"mm": found.mm, "U_mm": found.U_mm}


@pytest.mark.parametrize("row", PRINTED, ids=lambda row: f"{row['x']:g},{row['y']:g}")
def test_places_of_the_printed_homography_come_back(row):
    homography = plane_to_photo(CORNERS, (210, 297))

    assert on_plane_mm(homography, (row["px"], row["py"])) == pytest.approx(
        (row["x"], row["y"]), abs=ROUNDED_MM
    )


def test_four_corners_give_the_printed_homography():
    printed = [
        [1.580599596, 1.391731010e-01, 1850],
        [4.653605931e-02, 1.589781929, 1275],
        [4.315377453e-05, 6.958655048e-05, 1],
    ]

    # corners are printed to 0.0001 px, over 210 mm
    assert np.array(plane_to_photo(CORNERS, (210, 297))) == pytest.approx(np.array(printed), abs=2e-6)


def test_the_camera_is_where_the_printed_one_is():
    found = camera_mm(plane_to_photo(CORNERS, (210, 297)), SIZE, FOCAL)
    camera = -turned(8, -5).T @ np.array([-100, -150, 2000])

    # 0.0001 px of corners 310 px apart, over 2000 mm
    assert found == pytest.approx((camera[0], camera[1], abs(camera[2])), abs=0.05)


@pytest.mark.parametrize(
    ("nearer_mm", "reads_mm"), [(10, 100.502), (25, 101.264), (50, 102.561), (100, 105.256)]
)
def test_a_mark_before_the_sheet_reads_too_long_as_printed(nearer_mm, reads_mm):
    """The printed scene's mark from (0, 300) to (0, 400), raised toward the camera."""
    scene = Scene(SIZE, 3000, turned(8, -5), (-100, -150, 2000))
    ends = [scene.seen(0, y, nearer_mm) for y in (300, 400)]

    found = photo_length("a4", SIZE, CORNERS, ends)

    assert found.mm == pytest.approx(reads_mm, abs=6e-4)
    # a mark so far off is within what the uncertainty allows for: 10 mm is one standard uncertainty of it
    if nearer_mm <= 25:
        assert abs(found.mm - 100) < found.U_mm


@given(st.data())
def test_lengths_are_those_of_opencv(data):
    number = st.floats(-1, 1)
    scene = Scene(
        rotation=turned(*(20 * data.draw(number) for _ in range(3))),
        corner=(-105 + 60 * data.draw(number), -150 + 60 * data.draw(number), 1100 + 300 * data.draw(number)),
    )
    corners = [[x + 3 * data.draw(number), y + 3 * data.draw(number)] for x, y in sheet_seen(scene)]
    ends = [scene.seen(230 + 40 * data.draw(number), y + 50 * data.draw(number)) for y in (-20, 350)]
    theirs = cv2.getPerspectiveTransform(np.float32(corners), np.float32(A4))
    # OpenCV takes corners as 32-bit floats: those are the ones to compare with
    corners = np.float32(corners).astype(float).tolist()
    on_plane = cv2.perspectiveTransform(np.array([ends]), theirs)[0]
    expected = float(np.linalg.norm(on_plane[0] - on_plane[1]))
    assume(expected > 100)

    found = outcome("a4", scene.size, corners, ends)

    assert found.get("why") in (None, "unsure")
    assert found.get("mm", expected) == pytest.approx(expected, rel=1e-6)


def found_in(photo: np.ndarray) -> tuple[list, list]:
    """The sheet's corners and the two marks, found by OpenCV in a photo: sides as lines through their edge. [px]"""
    _level, white = cv2.threshold(photo, 160, 255, cv2.THRESH_BINARY)
    contours, _tree = cv2.findContours(white, cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
    rough = cv2.approxPolyDP(max(contours, key=cv2.contourArea), 20, True)
    close = (cv2.TERM_CRITERIA_EPS + cv2.TERM_CRITERIA_MAX_ITER, 50, 0.001)
    corners = cv2.cornerSubPix(photo, np.float32(rough), (8, 8), (-1, -1), close).reshape(-1, 2)
    _level, black = cv2.threshold(photo, 35, 255, cv2.THRESH_BINARY_INV)
    count, _labels, stats, middles = cv2.connectedComponentsWithStats(black)
    marks = [middles[n] for n in range(1, count) if stats[n, cv2.CC_STAT_AREA] > 40]
    # a pixel's middle is half a pixel in from its edge
    return (corners + 0.5).tolist(), sorted((np.array(marks) + 0.5).tolist(), key=lambda mark: mark[1])


RENDERED = {
    "square to it": (Scene(corner=(-250, -330, 1100)), "a4", (260, 180, 210, 297), [(215, 90), (215, 505)]),
    "from one side": (
        Scene(rotation=turned(6, 14), corner=(-250, -330, 1200)),
        "a4",
        (260, 180, 210, 297),
        [(215, 90), (220, 505)],
    ),
    "from above, lying": (
        Scene(rotation=turned(-12, -6, 4), corner=(-230, -330, 1250)),
        "a4",
        (240, 200, 297, 210),
        [(200, 90), (212, 505)],
    ),
    "letter": (
        Scene(rotation=turned(5, -9), corner=(-250, -330, 1200)),
        "letter",
        (260, 180, 215.9, 279.4),
        [(215, 90), (215, 470)],
    ),
    "a card beside a short length": (
        Scene(rotation=turned(4, 8), corner=(-250, -330, 800)),
        "card",
        (240, 250, 53.98, 85.60),
        [(215, 240), (215, 345)],
    ),
}


@pytest.mark.parametrize("name", RENDERED)
def test_a_rendered_scene_is_read_within_its_own_uncertainty(name):
    scene, sheet, place, marks = RENDERED[name]

    corners, ends = found_in(scene.photo(place, marks))
    found = photo_length(sheet, scene.size, corners, ends)

    true_mm = float(np.hypot(*np.subtract(*marks)))
    assert len(corners) == 4
    assert len(ends) == 2
    # corners are found to about half a pixel, of 0.6 to 0.9 mm
    assert found.mm == pytest.approx(true_mm, abs=1.0)
    assert 2 < found.U_mm < 20


def test_uncertainty_is_what_thousands_of_such_photos_scatter_by():
    """JCGM 101: the same inputs drawn at random and propagated whole, here by OpenCV and the scene's own geometry."""
    random = np.random.default_rng(20261125)
    scene = Scene(rotation=turned(5, -10), corner=(-250, -330, 1200))
    at, ends = (260, 180), [(215, 90), (215, 505)]
    corners = sheet_seen(scene, at=at)
    u_px = constants.PHOTO_PLACED_SHARE * max(scene.size)
    lengths = []
    for _ in range(4000):
        off, *each = random.normal(0, constants.PHOTO_PLANE_U_MM, 3)
        seen = [scene.seen(*end, off + own) for end, own in zip(ends, each, strict=True)]
        sides = np.array([210, 297]) + random.uniform(-2, 2, 2)
        taken_for = np.float32([(0, 0), (sides[0], 0), sides, (0, sides[1])])
        put = np.array(corners) + random.normal(0, u_px, (4, 2))
        to_plane = cv2.getPerspectiveTransform(np.float32(put), taken_for)
        on_plane = cv2.perspectiveTransform(np.array([seen]) + random.normal(0, u_px, (1, 2, 2)), to_plane)[0]
        length = np.linalg.norm(on_plane[0] - on_plane[1])
        lengths.append(length * (1 + random.normal(0, constants.PHOTO_LENS_SHARE)))

    found = measured(scene, ends, at=at)

    # 4,000 draws know their own scatter to about 1 in 90; the first-order propagation adds to that
    assert found.U_mm == pytest.approx(2 * np.std(lengths), rel=0.06)


def test_corners_may_begin_anywhere_and_go_either_way():
    scene, ends = Scene(rotation=turned(8, 12), corner=(-250, -330, 1200)), [(215, 90), (215, 505)]
    corners, seen = sheet_seen(scene, at=(260, 180)), [scene.seen(*end) for end in ends]
    expected = photo_length("a4", scene.size, corners, seen)

    for way in (corners, corners[::-1]):
        for start in range(4):
            found = photo_length("a4", scene.size, way[start:] + way[:start], seen[::-1])
            assert (found.mm, found.U_mm) == pytest.approx((expected.mm, expected.U_mm), rel=1e-9)


def test_a_small_sheet_far_from_the_marks_is_known_worse():
    scene, ends = Scene(corner=(-250, -330, 1200)), [(215, 90), (215, 505)]

    near = measured(scene, ends, at=(260, 180))
    with pytest.raises(Unmeasurable) as refusal:
        measured(scene, ends, "card", at=(320, 600))

    assert near.U_mm < 15
    assert refusal.value.why == "unsure"


@pytest.mark.parametrize(
    ("places", "why"),
    [
        ([(0, 0), (210, 297), (210, 0), (0, 297)], "crossed"),
        ([(0, 0), (210, 0), (100, 40), (0, 297)], "crossed"),
        ([(0, 0), (5, 0), (5, 7), (0, 7)], "crossed"),
        ([(0, 0), (210, 0), (420, 0), (0, 297)], "crossed"),
        ([(0, 0), (210, 0), (210, 210 * 2.2), (0, 210 * 2.2)], "shape"),
        ([(0, 0), (210, 0), (210, 205), (0, 205)], "shape"),
    ],
)
def test_corners_that_are_no_sheet_are_refused(places, why):
    with pytest.raises(Unmeasurable) as refusal:
        photo_length("card", (1500, 2000), [(500 + x, 500 + y) for x, y in places], [(400, 400), (400, 900)])

    assert refusal.value.why == why


def test_an_end_past_the_horizon_is_refused():
    scene = Scene(rotation=turned(60, 0), corner=(-100, -100, 700))
    horizon = scene.homography @ np.array([0, 1, 0])  # where the plane's far end runs to
    beyond = [800.0, horizon[1] / horizon[2] + 20]

    with pytest.raises(Unmeasurable) as refusal:
        photo_length("a4", scene.size, sheet_seen(scene), [scene.seen(0, 0), beyond])

    assert refusal.value.why == "beyond"


@pytest.mark.parametrize("size", [(0, 100), (-5, 100), (float("nan"), 100)])
def test_a_photo_without_a_size_is_refused(size):
    with pytest.raises(OutOfRange):
        photo_length("a4", size, CORNERS, [(0, 0), (1, 1)])


def test_a_place_that_is_no_number_is_refused():
    with pytest.raises(OutOfRange):
        photo_length("a4", SIZE, CORNERS, [(0, float("inf")), (1, 1)])


def test_the_phone_reads_the_same(js):
    random = np.random.default_rng(7)
    cases = []
    for _ in range(300):
        sheet = str(random.choice(list(constants.SHEETS_MM)))
        scene = Scene(
            rotation=turned(*random.normal(0, 14, 3)), corner=(-250, -330, random.uniform(500, 1500))
        )
        corners = sheet_seen(scene, sheet, at=random.uniform(100, 300, 2), lying=bool(random.integers(2)))
        ends = [scene.seen(*random.uniform(0, 600, 2)) for _ in range(2)]
        if random.random() < 0.1:
            corners[1], corners[2] = corners[2], corners[1]
        cases.append({"sheet": sheet, "size": list(scene.size), "corners": corners, "ends": ends})

    theirs = js("geometry/homography.js").map("photoLength", [[case] for case in cases])

    ours = [outcome(**case) for case in cases]
    assert [one.get("why") for one in theirs] == [one.get("why") for one in ours]
    assert len({one.get("why") for one in ours}) > 2  # both kinds of answer, and more than one refusal
    for their, our in zip(theirs, ours, strict=True):
        assert their == pytest.approx(our, rel=1e-9) if "mm" in our else their == our


@pytest.mark.parametrize("name", [name for name in vars(constants) if name.startswith(("PHOTO_", "SHEETS_"))])
def test_twins_have_the_same_numbers(js, name):
    theirs = js("geometry/homography.js").evaluate("(module, name) => module[name]", name)
    ours = getattr(constants, name)

    assert theirs == ({key: list(row) for key, row in ours.items()} if isinstance(ours, dict) else ours)


# A sheet of 210 by 297 mm seen square on, 10 px to the millimetre.
SQUARE_ON = [(1000, 500), (3100, 500), (3100, 3470), (1000, 3470)]


def test_a_place_exactly_on_the_horizon_is_beyond():
    # 1 - x / 1000 is nought there
    with pytest.raises(Unmeasurable, match="beyond"):
        on_plane_mm(((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.001, 0.0, 1.0)), (1000.0, 0.0))


@pytest.mark.parametrize("axis", [0, 1])
def test_a_place_that_is_no_number_is_refused_by_either_axis(axis):
    end = [2000.0, 1000.0]
    end[axis] = float("nan")

    with pytest.raises(OutOfRange, match=rf"^place_5_{axis} is"):
        photo_length("a4", (4100, 4000), SQUARE_ON, [(1000, 500), end])


def test_a_side_s_uncertainty_scales_the_length_along_it():
    # 100 mm across: a side of 210 that may be 0.6 longer or shorter makes it 100 · 0.6 / 210
    places = [*SQUARE_ON, (1500, 1000), (2500, 1000)]

    assert _from_sides(places, (210, 297), 0.6) == pytest.approx([100 * 0.6 / 210, 0], abs=1e-9)


def test_a_sheet_s_tolerance_counts_as_evenly_spread(monkeypatch):
    ends = [(1500, 1000), (2500, 1000)]

    def variance(tolerance_mm: float) -> float:
        monkeypatch.setitem(constants.SHEETS_MM, "a4", (210, 297, tolerance_mm))
        found = photo_length("a4", (4100, 4000), SQUARE_ON, ends)
        return (found.U_mm / constants.PHOTO_COVERAGE_FACTOR) ** 2

    # [GUM] 4.3.7: half the width over the root of three
    expected = (100 * 3 / 210) ** 2 / 3
    assert variance(3) - variance(1e-6) == pytest.approx(expected, rel=1e-6)


def test_two_ends_at_one_place_are_no_length_off_the_plane():
    assert _from_plane([*SQUARE_ON, (1500, 1000), (1500, 1000)], (210, 297), (4100, 4000)) == [0.0]


@pytest.mark.parametrize(("bend_px", "goes_round"), [(9, True), (7.9, False)])
def test_corners_go_round_while_each_bends_by_more_than_its_uncertainty(bend_px, goes_round):
    # two sides of 1000 px, a corner known to 1 px: 1000 · bend against 4 · 1 · 2000
    assert _goes_round([(0, 0), (1000, 0), (2000, bend_px), (1000, 1500)], 1.0) is goes_round


def side_seen_square_on(sheet: str, sides, scale: float, size, to: int = 3):
    """The length from a sheet's first corner to the one named, seen square on, the first at (1000, 500)."""
    w, h = (scale * side for side in sides)
    corners = [(1000, 500), (1000 + w, 500), (1000 + w, 500 + h), (1000, 500 + h)]
    return photo_length(sheet, size, corners, [corners[0], corners[to]])


def hand_reckoned_U_mm(long_mm: float, tolerance_mm: float, scale: float, size: tuple[float, float]) -> float:
    """What must come out there, by hand with the numbers of the design's defaults.

    A corner put one pixel off moves the place that it marks, and no other corner does: as its end, a corner counts.
    Ten millimetres nearer the camera, a place moves by 10 / z of its way from the photo's middle.
    """
    z = 0.7 * max(size) / scale
    upper = (500 - size[1] / 2) / scale
    u_squared = (
        4 * (0.001 * max(size) / scale) ** 2
        + (tolerance_mm / 3**0.5) ** 2
        + (10 / z) ** 2 * (long_mm**2 + upper**2 + (upper + long_mm) ** 2)
        + (0.003 * long_mm) ** 2
    )
    return 2 * u_squared**0.5


# ISO 216; 8 1/2 by 11 in; ISO/IEC 7810 ID-1, from memory.
@pytest.mark.parametrize(
    ("sheet", "short", "long", "tolerance"),
    [("a4", 210, 297, 2), ("letter", 8.5 * 25.4, 11 * 25.4, 2), ("card", 53.98, 85.60, 0.13)],
)
def test_a_sheet_s_own_side_is_as_long_and_as_sure_as_by_hand(sheet, short, long, tolerance):
    found = side_seen_square_on(sheet, (short, long), 10, (4100, 4000))
    across = side_seen_square_on(sheet, (short, long), 10, (4100, 4000), to=1)

    assert (across.mm, found.mm) == pytest.approx((short, long), rel=1e-12)
    # places are moved by 4 px of 850 or more: what bends in between is under half a millionth of U
    assert found.U_mm == pytest.approx(hand_reckoned_U_mm(long, tolerance, 10, (4100, 4000)), rel=5e-7)


@pytest.mark.parametrize(("scale", "sure"), [(11.2, True), (11.3, False)])
def test_a_length_is_known_well_enough_up_to_40_mm(scale, sure):
    size = (2000, 3000)
    by_hand = hand_reckoned_U_mm(297, 2, scale, size)

    assert 39.6 < by_hand < 40.4
    assert (by_hand < 40) is sure
    if sure:
        assert side_seen_square_on("a4", (210, 297), scale, size).U_mm == pytest.approx(by_hand, rel=1e-5)
    else:
        with pytest.raises(Unmeasurable, match="unsure"):
            side_seen_square_on("a4", (210, 297), scale, size)


@pytest.mark.parametrize(("ratio", "taken"), [(1.245, True), (1.255, False)])
def test_sides_are_in_their_own_ratio_within_a_quarter(ratio, taken):
    seen = (210, 297 / ratio)

    if taken:
        assert side_seen_square_on("a4", seen, 10, (4100, 4000)).mm == pytest.approx(297, rel=1e-9)
    else:
        with pytest.raises(Unmeasurable, match="shape"):
            side_seen_square_on("a4", seen, 10, (4100, 4000))
