import math

import cel
import pytest

from orders.rulebook.evaluate import Unknown, evaluate, value_of
from orders.rulebook.expression import read_expression

KNOWN = {"a": 3.0, "b": -0.5, "zero": 0.0, "yes": True, "no": False, "word": "solid"}
CASES = [
    "a + b * 2.0", "a - b - 1.0", "a / b", "-a * -2.0", "(a + b) / (a - b)", "yes && no", "yes || no", "!no",
    "yes ? a : b", "no ? a : yes ? b : a", "word == 'solid'", "word != 'solid'", "word in ['solid', 'wide']",
    "word in ['wide']", "a < b", "a >= 3.0", "a > 3.0", "b <= -0.5", "no && missing == 'x'",
    "yes || missing == 'x'", "yes ? a : missing", "a / zero", "-a / zero", "zero / zero", "yes == no",
]  # fmt: skip


def run(source: str):
    return evaluate(read_expression(source), KNOWN)


@pytest.mark.parametrize("source", CASES)
def test_the_open_language_s_own_engine_agrees(source):
    expected = cel.evaluate(source, KNOWN)

    value = run(source)

    assert type(value) is type(expected)
    assert value == expected or (math.isnan(value) and math.isnan(expected))


@pytest.mark.parametrize("source", CASES)
def test_the_twin_agrees(js, source):
    value = value_of(read_expression(source), KNOWN)

    ask = "((module, [tree, known]) => module.valueOf(tree, known) ?? null)"
    assert js("book/evaluate.js").evaluate(ask, [read_expression(source), KNOWN]) == value


def test_what_is_not_known_is_not_guessed():
    with pytest.raises(Unknown):
        run("a + missing")
    assert value_of(read_expression("a + missing"), KNOWN) is None
    assert value_of("a", {"a": None}) is None


def test_a_result_that_is_no_number_is_not_known():
    for source in ("a / zero", "zero / zero"):
        assert value_of(read_expression(source), KNOWN) is None
