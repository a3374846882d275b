"""The wall's volume is held against trimesh's, on the files' own finer surface; a tube's by hand."""

import json
from math import pi

import pytest
import trimesh

from orders.reckon import reckon
from orders.reckoning.cut_mass import cut_mass_g, volume_mm3
from orders.reckoning.edges import Cut
from orders.reckoning.errors import OutOfRange
from orders.reckoning.ordered import ordered, surfaces
from orders.reckoning.outline import Station
from orders.reckoning.surface import shell_mesh

from .test_ordered import DEMO, QUAYSIDE, TARN, makers


@pytest.mark.parametrize("path", DEMO[::5], ids=lambda path: path.stem)
def test_a_shell_weighs_what_its_files_hold(path):
    entry = json.loads(path.read_text(encoding="utf-8"))
    (workshop,) = makers(entry["shell"])
    result, shell = reckon(entry, workshop), entry["shell"]
    wall = next(wall for wall in workshop["walls"] if wall["key"] == shell["wall"])
    solid = trimesh.Trimesh(*surfaces(*ordered(result, shell, workshop)).shell, process=False)
    grams = solid.volume * wall["density_kg_m3"] * 1e-6 + 2 * workshop["strap"]["mass_g"]

    assert cut_mass_g(result, shell, {**workshop, "trim_mm": 0}) == pytest.approx(grams, rel=3e-3)


def test_what_is_left_to_trim_is_weighed_with_it():
    # of the demo's quayside a strip of 10 mm, open by the rear's share: its girth half-way through the wall
    entry = json.loads(next(path for path in DEMO if path.stem == "high-foot").read_text(encoding="utf-8"))
    shell = {"wall": "standard", "rear": "half", "top": "rounded", "colour": "sand", "finish": "smooth"}
    result = reckon({**entry, "shell": shell}, QUAYSIDE)
    (wall,) = QUAYSIDE["walls"]
    rear = next(rear for rear in QUAYSIDE["rears"] if rear["key"] == "half")
    strip_mm2 = 10 * (result["stations"][-1]["girth_mm"] - pi * wall["wall_mm"]) * (1 - rear["open_share"])

    with_it, without = (cut_mass_g(result, shell, {**QUAYSIDE, "trim_mm": trim}) for trim in (10, 0))

    grams = strip_mm2 * wall["wall_mm"] * wall["density_kg_m3"] * 1e-6
    assert with_it - without == pytest.approx(grams, rel=1e-9)


def test_volume_of_a_tube_is_its_rings_times_its_length():
    # 60 mm radius, 4 mm wall, 400 mm long, cut level: pi (60² - 56²) 400. Of a circle 60 flats hold 0.998
    tube = tuple(Station(below, 2 * pi * 60, 120, 120, 60, -60) for below in (0, 100, 200, 300, 400))
    mesh = shell_mesh(tube, 4.0, Cut(0, 0, 1, 0), 37, 60)

    assert volume_mm3(mesh) == pytest.approx(pi * (60**2 - 56**2) * 400, rel=2e-3)


def test_no_mass_of_what_can_not_be_cut():
    with pytest.raises(OutOfRange, match="stations"):
        cut_mass_g({"stations": [], "rear_trim_mm": 0}, {"wall": "thin"}, TARN)
