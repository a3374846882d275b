"""How a part of the book is quoted where it is refused."""

from orders.rulebook.entries import _short


def test_an_expression_is_quoted_whole_up_to_60_characters():
    assert _short("a" * 60) == "a" * 60
    assert _short("a" * 61) == "a" * 57 + "…"
