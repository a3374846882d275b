from math import hypot, pi, sin

import numpy as np
import pytest
import trimesh
from hypothesis import given, settings
from hypothesis import strategies as st

from orders.reckoning.edges import Cut, Edges
from orders.reckoning.errors import OutOfRange
from orders.reckoning.loft import Loft
from orders.reckoning.mass import shell_mass
from orders.reckoning.outline import stations
from orders.reckoning.surface import Mesh, outside_surface, shell_mesh

from .bodies import cone
from .published import rows

LEG = stations(401, 384.5)
SHORT = Cut(relief_mm=18, rear_trim_mm=76, reach=0.62, open_share=0.32)
LONG = Cut(rear_trim_mm=76, reach=0.94, open_share=0.2)
CUTS = {"tube": Cut(), "top only": Cut(rear_trim_mm=76), "short": SHORT, "long": LONG}


def body(mesh: Mesh) -> trimesh.Trimesh:
    """As trimesh reads it, nothing merged or mended."""
    return trimesh.Trimesh(*mesh, process=False)


def inscribed(around: int) -> float:
    """Area of a regular polygon over that of its circle."""
    return sin(2 * pi / around) / (2 * pi / around)


@pytest.mark.parametrize("mesh", [outside_surface(LEG), *(shell_mesh(LEG, 4, cut) for cut in CUTS.values())])
def test_mesh_is_closed_and_every_face_looks_out(mesh):
    solid = body(mesh)

    assert solid.is_watertight
    assert solid.is_winding_consistent
    assert solid.volume > 0
    assert solid.body_count == 1
    assert solid.area_faces.min() > 1e-3
    assert mesh.vertices.dtype == float
    assert mesh.faces.dtype.kind == "i"
    assert set(np.unique(mesh.faces)) == set(range(len(mesh.vertices)))


# A sphere has Euler number 2, a ring 0: the tube has a hole through it, and the opening below the rear's end
# comes out at the bottom edge, which adds none.
@pytest.mark.parametrize("cut", CUTS.values(), ids=CUTS)
def test_shell_has_one_hole_through_it(cut):
    assert body(shell_mesh(LEG, 4, cut)).euler_number == 0


def test_outside_has_the_volume_and_area_of_a_cylinder():
    radius, height, around = 380 / (2 * pi), 300, 108
    solid = body(outside_surface(cone(380, 380), rings=19, around=around))

    # a prism on a regular polygon inscribed in the circle, exactly
    flat = 2 * radius * sin(pi / around)
    assert solid.volume == pytest.approx(pi * radius**2 * height * inscribed(around), rel=1e-12)
    assert solid.area == pytest.approx(
        around * flat * height + 2 * pi * radius**2 * inscribed(around), rel=1e-12
    )
    assert solid.volume == pytest.approx(pi * radius**2 * height, rel=6e-4)


def test_outside_has_the_volume_and_area_of_a_cone():
    around = 720
    solid = body(outside_surface(cone(), rings=19, around=around))

    # published values 6.2: radii 60.478878 and 36.605637, lateral area 91 789.258 mm². Flats lie inside the
    # circle by (2 pi / 720)² / 6, which is 1.3e-5 of an area across and a quarter of that of a girth
    a, b = 60.478878, 36.605637
    assert solid.volume == pytest.approx(pi * 300 / 3 * (a * a + a * b + b * b), rel=1.4e-5)
    assert solid.area == pytest.approx(91_789.258 + pi * (a * a + b * b), rel=1.4e-5)


@pytest.mark.parametrize("row", rows("cone_mass"), ids=lambda row: f"{row['wall']} mm, {row['density']:g}")
def test_wall_of_a_cone_has_the_printed_volume_and_mass(row):
    solid = body(shell_mesh(cone(), row["wall"], Cut(), rings=9, around=720))

    # the whole wall is made of flats, 1.27e-5 of its area less than the circles'
    assert solid.volume == pytest.approx(row["volume"] * inscribed(720), abs=0.06)
    assert solid.volume * row["density"] * 1e-6 == pytest.approx(row["mass"], abs=1e-2)


@pytest.mark.parametrize("wall_mm", [4.0, 7.5])
def test_wall_of_a_leg_is_its_area_half_way_through_times_its_thickness(wall_mm):
    solid = body(shell_mesh(LEG, wall_mm, Cut()))

    # shell_mass takes the surface as straight from station to station, this one bends: 0.1 %; the flats 0.06 %
    grams = shell_mass(LEG, wall_mm, 1270, 0).mass_g
    assert solid.volume * 1270e-6 == pytest.approx(grams, rel=1.5e-3)


@pytest.mark.parametrize("cut", CUTS.values(), ids=CUTS)
def test_more_triangles_change_the_volume_less_and_less(cut):
    coarse, fine, finer = (
        body(shell_mesh(LEG, 4, cut, rings, around)).volume
        for rings, around in ((46, 54), (91, 108), (181, 216))
    )

    # second order: each halving leaves about a quarter of the error, and the last of these is below 0.05 %
    assert abs(finer - fine) < abs(fine - coarse) / 2
    assert finer == pytest.approx(fine, rel=1e-3)


@pytest.mark.parametrize("cut", [SHORT, LONG], ids=["short", "long"])
def test_corners_lie_on_the_outside_or_a_wall_within_and_none_beyond_the_edges(cut):
    mesh = shell_mesh(LEG, 4, cut)
    outer = mesh.vertices[: len(mesh.vertices) // 2]
    loft = Loft(LEG)
    edges = Edges(loft, cut)

    below = -outer[:, 2]
    centre, depth, breadth = loft.axes(below)
    ahead, aside = (outer[:, 0] - centre) / depth, outer[:, 1] / breadth
    assert np.hypot(ahead, aside) == pytest.approx(np.ones(len(outer)), rel=1e-9)
    angle = np.arctan2(aside, ahead)
    behind = np.abs(angle) > edges.side_angle + 1e-9
    assert (below >= edges.top(angle) - 1e-9).all()
    assert (below[behind] <= edges.low(angle[behind]) + 1e-6).all()
    assert below.max() == pytest.approx(401)


def test_both_sides_are_alike():
    vertices = shell_mesh(LEG, 4, SHORT).vertices
    mirrored = vertices * [1, -1, 1]

    def ordered(points):
        points = np.round(points, 6) + 0.0
        return points[np.lexsort(points.T)]

    assert ordered(vertices) == pytest.approx(ordered(mirrored), abs=1e-5)


def test_a_cut_shell_weighs_less_by_what_is_open():
    whole = body(shell_mesh(LEG, 4, Cut())).volume
    open_below = body(shell_mesh(LEG, 4, Cut(reach=0.62, open_share=0.32))).volume
    # by hand: what lies below the rear's end is 0.38 of the length, the straight side edges leave 0.32 of the
    # round open over the last 62 mm and the sweep takes part of that over 90 mm; girths there are 0.60 to 0.73 of
    # the widest, 0.83 on the average of the leg
    ring_share = 0.32 * 0.63 / 0.83
    by_hand = ring_share * (62.4 + 90 * 0.7) / 401
    assert 1 - open_below / whole == pytest.approx(by_hand, rel=0.25)


def test_rings_count_from_the_first_station():
    lower = [type(s)(**(vars(s) | {"below_top_mm": s.below_top_mm + 20})) for s in LEG]

    for make in (lambda o: outside_surface(o, 19, 36), lambda o: shell_mesh(o, 4, SHORT, 19, 36)):
        assert make(lower).vertices == pytest.approx(make(LEG).vertices - [0, 0, 20], abs=1e-6)


def test_outside_counts_its_triangles_as_promised():
    mesh = outside_surface(LEG)

    # as many as are wanted unless asked for otherwise; a closed body without holes has V - F / 2 = 2 (Euler)
    assert len(mesh.faces) == 2 * 108 * 91 == 19_656
    assert len(mesh.vertices) == 91 * 108 + 2
    assert len(shell_mesh(LEG, 4, Cut()).vertices) == 2 * 91 * 108
    # every station's front is one of the corners
    fronts = {(round(s.front_mm, 6), round(-s.below_top_mm, 6)) for s in LEG}
    assert fronts <= {(round(x, 6), round(z, 6)) for x, _, z in mesh.vertices}


def test_outside_is_closed_by_fans_from_the_middle_of_its_ends():
    vertices = outside_surface(LEG, rings=19, around=36).vertices

    # the mean of evenly turned points of an ellipse is its centre, to rounding
    for ring, middle in ((vertices[:36], vertices[-2]), (vertices[-38:-2], vertices[-1])):
        assert middle == pytest.approx(ring.mean(axis=0), abs=1e-9)


def outer_corners(mesh: Mesh, outline) -> tuple[np.ndarray, np.ndarray]:
    """The outside's angles from the front and places below the top."""
    outer = mesh.vertices[: len(mesh.vertices) // 2]
    centre, depth, breadth = Loft(outline).axes(-outer[:, 2])
    return np.arctan2(outer[:, 1] / breadth, (outer[:, 0] - centre) / depth), -outer[:, 2]


TALL = stations(480, 384.5)
SHORTEST_REACH = Cut(reach=0.01, open_share=0.3)


# Rounding up and down on either side of the place where the side edges begin makes one more or one less.
@pytest.mark.parametrize(
    ("outline", "cut", "rings", "off"),
    [
        (LEG, CUTS["tube"], 8, 0),
        (LEG, CUTS["tube"], 33, 0),
        (LEG, SHORT, 33, 1),
        (LEG, SHORT, 100, 1),
        (LEG, LONG, 8, 1),
        (TALL, SHORTEST_REACH, 8, 1),
    ],
)
def test_the_front_has_the_rows_that_were_asked_for(outline, cut, rings, off):
    angle, below = outer_corners(shell_mesh(outline, 4, cut, rings, 24), outline)
    front = below[np.abs(angle) < 1e-9]

    assert abs(len(front) - rings) <= off
    assert front.min() == pytest.approx(cut.relief_mm)
    assert front.max() == pytest.approx(outline[-1].below_top_mm)


@pytest.mark.parametrize("around", [36, 108])
@pytest.mark.parametrize("cut", [SHORT, LONG], ids=["short", "long"])
def test_flats_of_the_front_turn_by_their_share_of_the_round(cut, around):
    angle, below = outer_corners(shell_mesh(LEG, 4, cut, 19, around), LEG)
    bottom = np.sort(angle[below > 401 - 1e-6])

    # between the side edges by the front a whole even number of flats: half of the round's at the least, so that one
    # more or less than their share is under one in 18
    assert np.diff(bottom) == pytest.approx(np.full(len(bottom) - 1, 2 * pi / around), rel=1 / 18)
    assert bottom[-1] == pytest.approx(pi * (1 - cut.open_share))


def test_the_fewest_flats_still_meet_the_middle_of_the_front_and_of_the_rear():
    # a strip in front, a slit behind: of eight flats round, by their share the one would get none and so the other
    for open_share in (0.9, 0.05):
        cut = Cut(reach=0.62, open_share=open_share)
        angle, below = outer_corners(shell_mesh(LEG, 4, cut, 8, 8), LEG)

        assert (np.abs(angle) < 1e-9).any()
        # the lowest corner behind is the rear's end
        assert below[np.abs(angle) > pi - 1e-9].max() == pytest.approx(0.62 * 401)


def test_faces_of_one_surface_cannot_spoil_those_of_the_next():
    with pytest.raises(ValueError, match="read-only"):
        outside_surface(LEG).faces[0] = 0


def test_slant_of_the_printed_cone():
    a, b = 60.478878, 36.605637
    assert hypot(300, a - b) == pytest.approx(300.948387, abs=1e-6)


@pytest.mark.parametrize("name", ["rings", "around"])
@pytest.mark.parametrize("value", [0, -1, 7, 2001, 12.0, float("nan"), float("inf"), None, "91", True, 10**9])
def test_odd_counts_are_refused_by_name(name, value):
    for make in (
        lambda **more: outside_surface(LEG, **more),
        lambda **more: shell_mesh(LEG, 4, Cut(), **more),
    ):
        with pytest.raises(OutOfRange, match=f"^{name} is"):
            make(**{name: value})


@pytest.mark.parametrize("wall_mm", [0, -4, float("nan"), float("inf"), 1e300, None, "4", True, 23.5])
def test_odd_walls_are_refused_by_name(wall_mm):
    # the least radius is at the lower end, where a girth of 0.5853 of 384.5 has axes of about 62 and 81: 31² / 40.5
    with pytest.raises(OutOfRange, match=r"^wall_mm is"):
        shell_mesh(LEG, wall_mm, SHORT)


@settings(max_examples=40, deadline=None)
@given(
    length_mm=st.floats(200, 480),
    girth_mm=st.floats(230, 540),
    wall_mm=st.floats(1, 7.5),
    relief_mm=st.floats(0, 40),
    trim_share=st.floats(0, 0.9),
    reach=st.floats(0.3, 1),
    open_share=st.floats(0, 0.9),
    counts=st.tuples(st.integers(8, 60), st.integers(8, 60)),
)
def test_any_shell_a_workshop_makes_is_closed(
    length_mm, girth_mm, wall_mm, relief_mm, trim_share, reach, open_share, counts
):
    cut = Cut(relief_mm, trim_share * reach * length_mm, reach, open_share)
    mesh = shell_mesh(stations(length_mm, girth_mm), wall_mm, cut, *counts)
    solid = body(mesh)

    assert solid.is_watertight
    assert solid.is_winding_consistent
    assert solid.volume > 0
    assert np.isfinite(mesh.vertices).all()
