import io
import zipfile

import lib3mf
import numpy as np
import pytest
import trimesh
from lib3mf import get_wrapper
from shapely.geometry import Point
from shapely.ops import polygonize

from orders.documents.shell import CannotBeMade, made_shell
from orders.documents.surface_files import outside_of, stl_bytes, three_mf_bytes, wall_of
from orders.reckon import reckon
from tests import factories

from .shells import catalogue, shell, trimmed

MAKERS = {"outside": outside_of, "wall": wall_of}


def read_stl(raw: bytes) -> trimesh.Trimesh:
    """As trimesh reads it: a file of the format has no shared corners, so equal ones are put together, no more."""
    body = trimesh.load(io.BytesIO(raw), file_type="stl", process=False)
    body.merge_vertices(digits_vertex=12)
    return body


def read_3mf(raw: bytes):
    """The one object of a 3MF file and its build item, by the format's own library; refuses what breaks the rules."""
    model = get_wrapper().CreateModel()
    reader = model.QueryReader("3mf")
    reader.SetStrictModeActive(True)
    reader.ReadFromBuffer(raw)
    assert [reader.GetWarning(n) for n in range(reader.GetWarningCount())] == []
    meshes = model.GetMeshObjects()
    assert meshes.Count() == 1
    meshes.MoveNext()
    items = model.GetBuildItems()
    assert items.Count() == 1
    items.MoveNext()
    return model, meshes.GetCurrentMeshObject(), items.GetCurrent()


@pytest.mark.parametrize("make", MAKERS.values(), ids=MAKERS)
def test_stl_is_closed_looks_out_and_is_in_mm(make):
    made = shell()
    body = read_stl(stl_bytes(make(made), made.name))

    assert body.is_watertight
    assert body.is_winding_consistent
    assert body.volume > 0
    assert body.bounds[:, 2] == pytest.approx([-381, 0], abs=1e-4)


@pytest.mark.parametrize("make", MAKERS.values(), ids=MAKERS)
def test_stl_normals_are_those_of_its_corners(make):
    made = shell()
    raw = stl_bytes(make(made), made.name)
    facets = np.frombuffer(raw[84:], np.dtype([("n", "<f4", 3), ("v", "<f4", (3, 3)), ("x", "<u2")]))

    assert int.from_bytes(raw[80:84], "little") == len(facets)
    own = trimesh.triangles.normals(facets["v"].astype(float))[0]
    # single precision: a corner is good to 8 µm of 100 mm, a facet is some millimetres wide
    assert np.abs(facets["n"] - own).max() < 1e-4


def test_stl_header_says_mm_and_what_it_is_and_is_no_text_file():
    made = shell()
    raw = stl_bytes(outside_of(made), made.name)

    assert raw[:80].rstrip(b"\0") == b"Shankline, mm: T-0001 left revision 1"
    assert not raw.startswith(b"solid")


def test_stl_header_of_a_long_name_is_cut():
    assert len(stl_bytes(outside_of(shell()), "n" * 200)) == 84 + 50 * len(outside_of(shell()).faces)


def test_outside_has_the_girth_of_the_widest_place():
    # 374.65 mm is 14 3/4 in; the section there is a polygon of 108 flats in the ellipse, which is shorter by
    # (pi/108)²/6, 0.05 mm; the cut lies at the station, 1/3 of the length below the top
    body = read_stl(stl_bytes(outside_of(shell()), ""))

    cut = body.section(plane_origin=[0, 0, -127.0], plane_normal=[0, 0, 1])

    assert cut.length == pytest.approx(374.65, abs=0.08)


def test_wall_is_as_thick_as_ordered():
    # cut level at the widest place, just below its station: an outer line and an inner one. The wall is 4 mm square to
    # itself; the flats sag 0.03 mm each, and it leans by under 3 degrees, which makes a level cut 0.14 % longer
    body = read_stl(stl_bytes(wall_of(shell()), ""))

    cut = trimesh.intersections.mesh_plane(body, plane_normal=[0, 0, 1], plane_origin=[0, 0, -127.1])

    (wall, hollow) = sorted(
        polygonize(cut[:, :, :2].round(6).tolist()), key=lambda shape: -len(shape.interiors)
    )
    assert [len(shape.interiors) for shape in (wall, hollow)] == [1, 0]
    apart = [wall.exterior.distance(Point(corner)) for corner in hollow.exterior.coords]
    assert apart == pytest.approx([4.0] * len(apart), abs=0.05)


def test_volume_of_the_wall_is_the_mass_that_was_reckoned():
    # the result's mass is an area times a thickness: 1270 kg/m³, two straps of 15 g. The cut of top and rear is
    # the mass's open share there, a rough one: within a fifth
    made, entry = shell(), factories.entry()
    mass_g = reckon(entry, catalogue())["mass_g"]
    body = read_stl(stl_bytes(wall_of(made), ""))

    assert body.volume * 1270e-6 + 30 == pytest.approx(mass_g, rel=0.2)


@pytest.mark.parametrize("make", MAKERS.values(), ids=MAKERS)
def test_3mf_is_valid_to_the_formats_own_library(make):
    made = trimmed()
    mesh = make(made)

    model, body, item = read_3mf(three_mf_bytes(mesh, made.name))

    assert body.IsValid()
    assert body.IsManifoldAndOriented()
    assert model.GetUnit() == lib3mf.ModelUnit.MilliMeter
    assert body.GetName() == made.name
    assert body.GetTriangleCount() == len(mesh.faces)
    corners = np.array([vertex.Coordinates[:] for vertex in body.GetVertices()])
    assert np.abs(corners - mesh.vertices).max() < 1e-4
    moved = np.array([list(row) for row in item.GetObjectTransform().Fields])
    assert ((corners @ moved[:3] + moved[3]) > -1e-4).all()


def test_3mf_title_is_escaped():
    _, body, _ = read_3mf(three_mf_bytes(outside_of(shell()), 'a <b> & "c"'))

    assert body.GetName() == 'a <b> & "c"'


def test_left_is_left():
    # y runs to the person's left, for either shell
    left, right = shell(), shell(factories.entry(side="right"))

    assert stl_bytes(outside_of(left), "")[84:] == stl_bytes(outside_of(right), "")[84:]
    assert (left.name, right.name) == ("T-0001 left revision 1", "T-0001 right revision 1")


@pytest.mark.parametrize("write", [stl_bytes, three_mf_bytes])
def test_same_shell_gives_the_same_bytes(write):
    assert write(wall_of(shell()), "a") == write(wall_of(shell()), "a")


def test_3mf_is_packed():
    raw = three_mf_bytes(outside_of(shell()), "")

    assert len(raw) < sum(part.file_size for part in zipfile.ZipFile(io.BytesIO(raw)).infolist()) / 3


def test_wall_too_thick_for_the_curve_is_told():
    made_by = catalogue()
    made_by["walls"][0]["wall_mm"] = 25
    entry = factories.entry(girth=["230", "230"], units="mm", length=["394"], second_route=None)
    made = made_shell("T-0001", 1, entry, reckon(entry, made_by), made_by)

    with pytest.raises(CannotBeMade, match="wall_mm is 25"):
        wall_of(made)
