"""Examples of the wanted photos: drawn from the answers, with the dots of tape that the photo should show."""

import json
from xml.etree import ElementTree

import pytest

from capture.seal import VIEWS
from orders.figure import draw
from orders.figure.data import FIGURE
from orders.figure.views import wanted_view
from tests.orders.figure import scenes as sample

ENTRIES = [{}, sample.ENTRY, sample.PLAIN_ENTRY]


def dots(svg: str) -> list[ElementTree.Element]:
    return [one for one in ElementTree.fromstring(svg).iter() if one.get("class") == "fg-mark"]


def test_every_view_that_a_seal_may_name_has_an_example_but_the_free_one():
    assert set(FIGURE["wanted"]) == set(VIEWS) - {"free"}
    assert wanted_view("free", sample.ENTRY) is None


@pytest.mark.parametrize(("view", "marks"), [("front", 2), ("side", 2), ("knee", 1), ("foot", 1)])
def test_example_shows_the_marks_in_the_picture(view, marks):
    svg = draw(wanted_view(view, sample.ENTRY, sample.TARN, fit=(120, 132)))
    _x, _y, width, height = map(float, ElementTree.fromstring(svg).get("viewBox").split())

    shown = dots(svg)
    assert len(shown) == marks
    for dot in shown:
        assert 0 < float(dot.get("cx")) < width
        assert 0 < float(dot.get("cy")) < height


def test_twins_draw_the_same_examples(js):
    rows = [(view, entry, sample.TARN, {"fit": [120, 132]}) for view in FIGURE["wanted"] for entry in ENTRIES]
    scenes = js("figure/views.js").map("wantedView", rows)
    drawn = js("figure/leg.js").map("draw", [(scene,) for scene in scenes])

    for (view, entry, catalogue, options), scene, svg in zip(rows, scenes, drawn, strict=True):
        twin = wanted_view(view, entry, catalogue, **options)
        assert scene == json.loads(json.dumps(twin))
        assert svg == draw(twin)
