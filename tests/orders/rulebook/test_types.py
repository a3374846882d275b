import pytest

from orders.rulebook.expression import read_expression
from orders.rulebook.types import TypeMismatch, type_of

TYPES = {"gap_mm": "number", "ankle": "text", "foam_pad": "flag"}


@pytest.mark.parametrize(
    ("source", "expected"),
    [
        ("gap_mm * 2.0", "number"),
        ("foam_pad ? gap_mm : 1.0", "number"),
        ("ankle == 'solid' ? 'a' : 'b'", "text"),
        ("less(gap_mm, 3.0)", "flag"),
        ("ankle in ['solid']", "flag"),
        ("!foam_pad || ankle != 'wide'", "flag"),
        ("foam_pad == true", "flag"),
    ],
)
def test_an_expression_has_a_type(source, expected):
    assert type_of(read_expression(source), TYPES) == expected


@pytest.mark.parametrize(
    ("source", "says"),
    [
        ("gapmm", "nothing is called “gapmm”."),
        ("lesser(gap_mm, 1.0)", "there is no function “lesser”."),
        ("less(gap_mm)", "“less” takes 2 values, not 1."),
        ("less(gap_mm, ankle)", "“less” takes a number, not a text."),
        ("ankle + 1.0", "“+” takes a number, not a text."),
        ("ankle == 1.0", "“==” takes a text, not a number."),
        ("gap_mm && foam_pad", "“&&” takes a flag, not a number."),
        ("!gap_mm", "“!” takes a flag, not a number."),
        ("gap_mm ? 1.0 : 2.0", "“?” takes a flag, not a number."),
        ("foam_pad ? 1.0 : 'x'", "“?” takes a number, not a text."),
        ("gap_mm in ['x']", "“in” takes a text, not a number."),
        ("ankle < 'b'", "“<” takes a number, not a text."),
        ("gap_mm < 3.0", "compare numbers with less(a, b) or more(a, b), not with “<”."),
        ("gap_mm == 3.0", "compare numbers with less(a, b) or more(a, b), not with “==”."),
    ],
)
def test_what_does_not_fit_together_is_refused(source, says):
    with pytest.raises(TypeMismatch) as error:
        type_of(read_expression(source), TYPES)
    assert str(error.value) == says
