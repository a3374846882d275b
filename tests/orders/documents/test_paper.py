import hashlib
import re
from pathlib import Path

import pytest
from fontTools.ttLib import TTFont

from orders.documents.paper import (
    FACES,
    FAMILIES,
    FONTS,
    figure_style,
    pdf_of,
    printed_rules,
    resolved,
    with_style,
)
from orders.figure import draw

from .pages import opened, texts, things, typesetters_words

PAGE = '<html lang="en"><head><title>T</title></head><body>{}</body></html>'


def test_fonts_are_the_files_that_the_readme_names():
    told = dict(re.findall(r"\| `(\S+)` \| `([0-9a-f]{64})` \|", (FONTS / "README.md").read_text()))

    assert set(told) == set(FACES)
    for name, sha256 in told.items():
        assert hashlib.sha256((FONTS / name).read_bytes()).hexdigest() == sha256
    assert "SIL OPEN FONT LICENSE Version 1.1" in (FONTS / "OFL.txt").read_text()


@pytest.mark.parametrize("weight", [400, 700])
def test_fonts_have_every_letter_that_the_rules_and_readings_use(weight):
    files = [name for name, (_family, of) in FACES.items() if of == weight]
    has = {letter for name in files for letter in TTFont(FONTS / name).getBestCmap()}
    says = "".join(
        line
        for file in Path("orders/rulebook").glob("*.toml")
        for line in file.read_text().splitlines()
        if line.startswith(("says", "do ", "derivation"))
    )

    assert {letter for letter in says if ord(letter) not in has} == set()
    assert {letter for letter in "½¼¾⅛⅜⅝⅞′″−×±°·“”‘’–…²³µπ0123456789" if ord(letter) not in has} == set()


def test_page_is_set_in_our_fonts_alone_and_without_a_word_of_complaint():
    with typesetters_words() as said:
        raw = pdf_of(PAGE.format("<p>−16½ ⅛ <b>bold</b></p>"), f"body{{font-family:{FAMILIES}}}", {})

    pdf = opened(raw)
    fonts = {str(font.BaseFont).partition("+")[2] for font in things(pdf, Type="/Font")}
    assert said == []
    assert texts(raw) == ["−16½ ⅛ bold"]
    assert fonts == {"Noto-Sans-Latin", "Noto-Sans-Latin-Bold", "Noto-Sans"}


@pytest.mark.parametrize(
    "address",
    ["file:///etc/hostname", "http://127.0.0.1:1/a.png", "data:image/svg+xml,<svg/>", "photo:other", "a.png"],
)
def test_nothing_is_fetched(address):
    with typesetters_words() as said:
        raw = pdf_of(PAGE.format(f'<p>here</p><img alt="missing" src="{address}">'), "", {})

    assert texts(raw)[0].startswith("here")
    assert any("documents fetch nothing" in word or "Relative URI" in word for word in said)
    pdf = opened(raw)
    assert things(pdf, Subtype="/Image") == []


def test_style_may_fetch_nothing_either():
    with typesetters_words() as said:
        pdf_of(
            PAGE.format("a"),
            "@import url(file:///etc/hostname); body{background:url(http://127.0.0.1:1/)}",
            {},
        )

    assert len([word for word in said if "documents fetch nothing" in word]) == 2


def test_same_page_gives_the_same_bytes():
    page = PAGE.format("<h1>Head</h1><p>Text</p>")

    assert pdf_of(page, "", {}) == pdf_of(page, "", {})


def test_figures_style_has_every_value_put_in():
    style = figure_style()

    assert "var(" not in style
    assert "--" not in style
    # as it is on paper: fills dropped, the shell's outline in the paper's ink
    assert "stroke:#000" in style
    assert "vector-effect" not in style


def test_figure_brings_its_style_along():
    svg = with_style(draw({"title": "A leg"}))

    assert svg.startswith("<svg")
    assert "><style>" in svg.partition("<title>")[0]


def test_only_rules_for_paper_are_taken():
    css = "a{color:red} @media print{a{color:black}} @media (forced-colors: active){a{color:blue}}"

    assert list(printed_rules(css)) == [("a", [("color", "red")]), ("a", [("color", "black")])]


def test_values_stand_in_for_their_names_and_one_without_is_an_error():
    assert resolved("a{b:var(--x) var(--y, 2px)}", {"--x": "var(--z)", "--z": "1px"}) == "a{b:1px  2px}"
    with pytest.raises(KeyError):
        resolved("a{b:var(--w)}", {})
