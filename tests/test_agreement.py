"""Where code, words and drawings must agree, so that none can be forgotten."""

import re
from pathlib import Path

import pytest

from capture.sheet_fields import FIELDS
from orders.figure import draw, guide
from orders.rulebook.book import load_book

ROOT = Path(__file__).resolve().parent.parent
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
CODE = [*ROOT.glob("project/**/*.py"), *ROOT.glob("capture/**/*.py"), *ROOT.glob("orders/**/*.py")]


def test_every_flag_stands_in_the_developers_page():
    told = set(re.findall(r"^\| `([a-z]+\.[a-z_]+)` \|", DEVELOPERS, re.MULTILINE))

    assert {check["id"] for check in load_book().checks} | reading_flags() == told


def reading_flags() -> set[str]:
    """The flags that come from reading what was typed, which no formula says."""
    from orders.rulebook import readings

    return set(re.findall(r'"(reading\.[a-z_]+)"', Path(readings.__file__).read_text()))


def test_every_setting_is_described():
    named = {
        name for file in CODE for name in re.findall(r"SHANKLINE_[A-Z_]+", file.read_text(encoding="utf-8"))
    }
    described = set(re.findall(r"`(SHANKLINE_[A-Z_]+)`", DEVELOPERS))

    assert named == described


@pytest.mark.parametrize("field", [field for field in FIELDS if field.drawing], ids=lambda field: field.key)
def test_every_field_has_a_drawing_and_words(field):
    scene = guide(field.drawing, {"side": "left"}, {})

    assert draw(scene).startswith("<svg")
    assert field.where


def test_the_imports_point_one_way():
    """The reckoning knows neither rule book nor Django, these two no Django either, and capture no table of orders."""
    wrong = []
    for file in CODE:
        place, text = file.relative_to(ROOT).as_posix(), file.read_text(encoding="utf-8")
        if (
            place.startswith(("orders/reckoning/", "orders/rulebook/", "orders/figure/"))
            or place == "orders/reckon.py"
        ):
            wrong += [
                place for line in text.splitlines() if re.match(r"\s*(from|import) (django|project)\b", line)
            ]
        if place.startswith("orders/reckoning/"):
            wrong += [place for line in text.splitlines() if re.match(r"\s*from orders\.(?!reckoning)", line)]
        if place.startswith("capture/"):
            allowed = r"\s*(from|import) orders\.(?!reckoning|rulebook|figure)"
            wrong += [place for line in text.splitlines() if re.match(allowed, line)]
    assert wrong == []


def test_no_address_of_a_registry_stands_in_the_pins():
    assert "http" not in (ROOT / "constraints.txt").read_text()
