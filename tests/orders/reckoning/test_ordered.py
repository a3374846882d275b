"""From a result to its surfaces, on the demo's own entries."""

import json
from math import cos, pi
from pathlib import Path

import numpy as np
import pytest
import trimesh
from shapely import LinearRing, Polygon, points

from orders.reckon import reckon
from orders.reckoning.edges import Cut
from orders.reckoning.errors import OutOfRange
from orders.reckoning.ordered import Ordered, ordered, surfaces
from orders.reckoning.outline import Station
from tests.orders.entries import CATALOGUES, catalogue, entry_with

TARN, QUAYSIDE = catalogue(), catalogue("quayside-forming")
DEMO = sorted((Path(CATALOGUES).parent / "entries").glob("*.json"))


def body(mesh) -> trimesh.Trimesh:
    """As trimesh reads it, nothing merged or mended."""
    return trimesh.Trimesh(*mesh, process=False)


def makers(shell: dict) -> list[dict]:
    """The catalogues that make such a shell."""
    return [each for each in (TARN, QUAYSIDE) if shell["wall"] in {wall["key"] for wall in each["walls"]}]


@pytest.mark.parametrize("path", DEMO, ids=lambda path: path.stem)
def test_every_shell_of_the_demo_has_its_two_surfaces(path):
    entry = json.loads(path.read_text(encoding="utf-8"))
    (workshop,) = makers(entry["shell"])
    result = reckon(entry, workshop)

    outside, shell = (body(mesh) for mesh in surfaces(*ordered(result, entry["shell"], workshop)))

    for solid in (outside, shell):
        assert solid.is_watertight
        assert solid.is_winding_consistent
        assert solid.volume > 0
        # the length that is made, from the apex at nought down. Between a relief and the fall to the rear the top
        # edge may be level over less than a column is wide: then no corner is quite as high as the apex
        assert solid.bounds[0, 2] == pytest.approx(-result["finished_length_mm"], abs=1e-9)
        assert -0.01 < solid.bounds[1, 2] <= 0
    # the widest section's 108 flats are 1 - (pi / 108)² / 6 of its girth, and 0.001 mm was rounded off its axes
    assert _girth_at(outside, result) == pytest.approx(result["girth_mm"], rel=2e-4)


def _girth_at(outside, result) -> float:
    """Girth of the outside at the widest station, by shapely."""
    place = max(result["stations"], key=lambda row: row["girth_mm"])["below_top_mm"]
    ring = outside.vertices[:-2].reshape(91, 108, 3)
    level = ring[np.abs(ring[:, 0, 2] + place).argmin()]
    return LinearRing(level[:, :2]).length


def test_rear_is_open_below_its_reach_and_the_front_cut_to_its_relief():
    entry = entry_with({"shell.rear": "short", "shell.top": "cut_down"})
    made = ordered(reckon(entry, TARN), entry["shell"], TARN)
    shell = surfaces(*made).shell.vertices

    # the demo catalogue: reach 0.62, open share 0.32, relief 18; plain case 400 - 12.7 -> 387
    assert made.cut == Cut(18, reckon(entry, TARN)["rear_trim_mm"], 0.62, 0.32)
    behind, front = (
        shell[np.abs(shell[:, 1]) < 3][way * shell[np.abs(shell[:, 1]) < 3][:, 0] > 20] for way in (-1, 1)
    )
    assert behind[:, 2].min() == pytest.approx(-0.62 * 387, abs=0.5)
    assert front[:, 2].max() == pytest.approx(-18, abs=1e-6)
    assert front[:, 2].min() == pytest.approx(-387, abs=1e-6)


def test_inside_of_a_straight_wall_is_the_curve_moved_inward():
    # an upright elliptic tube, 118 by 126: shapely's buffer of its section is the oracle
    tube = tuple(Station(at, 383.4, 118, 126, 63, -63) for at in (0, 100, 200))
    shell = surfaces(tube, Cut(), 4.0).shell.vertices
    angle = np.linspace(0, 2 * pi, 7200, endpoint=False)
    outside = Polygon(np.column_stack([63 * np.cos(angle), 59 * np.sin(angle)]))

    inner = points(shell[len(shell) // 2 :, :2])

    # corners of both polygons lie on the curves, their chords within 1e-4 mm of them
    assert max(outside.buffer(-4, quad_segs=64).exterior.distance(p) for p in inner) < 2e-4


def test_wall_of_a_straight_tube_is_its_section_times_its_height():
    tube = tuple(Station(at, 383.4, 118, 126, 63, -63) for at in (0, 100, 200))
    around = 720
    solid = body(surfaces(tube, Cut(), 4.0, 9, around).shell)
    angle = np.linspace(0, 2 * pi, 7200, endpoint=False)
    outside = Polygon(np.column_stack([63 * np.cos(angle), 59 * np.sin(angle)]))

    # flats of 720 to the round lie inside their curve by a share of 1.3e-5 of the area
    level = outside.area - outside.buffer(-4, quad_segs=64).area
    assert solid.volume == pytest.approx(level * 200, rel=2e-4)
    assert cos(pi / around) > 1 - 1e-5


@pytest.mark.parametrize(
    ("change", "name"),
    [
        ({"stations": []}, "stations"),
        ({"rear_trim_mm": None}, "rear_trim_mm"),
        ({"rear_trim_mm": -1}, "rear_trim_mm"),
    ],
)
def test_a_result_that_no_shell_can_be_made_from_is_refused_by_name(change, name):
    entry = entry_with()

    with pytest.raises(OutOfRange, match=f"^{name} is"):
        ordered(reckon(entry, TARN) | change, entry["shell"], TARN)


@pytest.mark.parametrize("kind", ["wall", "rear", "top"])
def test_an_option_the_catalogue_does_not_have_is_refused_by_name(kind):
    entry = entry_with()

    with pytest.raises(OutOfRange, match=f"^shell.{kind} is velvet"):
        ordered(reckon(entry, TARN), entry["shell"] | {kind: "velvet"}, TARN)


def test_a_rear_that_would_end_above_its_start_is_refused():
    entry = entry_with()
    made = ordered(reckon(entry, TARN) | {"rear_trim_mm": 300.0}, entry["shell"], TARN)

    with pytest.raises(OutOfRange, match="rear_trim_mm"):
        surfaces(*made)


def test_the_order_s_outline_is_the_result_s():
    entry = entry_with()
    result = reckon(entry, TARN)

    made = ordered(result, entry["shell"], TARN)

    assert isinstance(made, Ordered)
    assert [vars(station) for station in made.outline] == result["stations"]
    assert made.wall_mm == 4.0
