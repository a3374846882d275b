import pytest
from django.utils import translation

from orders.documents.work_order_style import PAPERS, css_text, style_of


@pytest.mark.parametrize("paper", PAPERS)
def test_style_names_its_paper_and_counts_pages(paper):
    style = style_of(paper, preview=False)

    assert f"size: {PAPERS[paper].size};" in style
    assert "counter(pages)" in style
    assert "PREVIEW" not in style


def test_preview_says_so_in_every_pages_head():
    assert '@top-center { content: "PREVIEW: nothing is made from this"' in style_of("a4", preview=True)


def test_pages_are_counted_in_the_readers_language():
    with translation.override("de"):
        assert '"Seite" " " counter(page)' in style_of("a4", preview=False)


def test_text_in_css_can_not_end_its_string():
    assert css_text('a"b\\c\nd') == '"a\\"b\\\\c d"'
