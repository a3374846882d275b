import math
import random

import cel
import pytest

from orders.rulebook.evaluate import Unknown, evaluate, value_of
from orders.rulebook.expression import read_expression, read_placed
from orders.rulebook.functions import FUNCTIONS
from orders.rulebook.types import type_of

KNOWN = {"a": 3.0, "b": -0.5, "zero": 0.0, "yes": True, "no": False, "word": "solid"}
CASES = [
    "a + b * 2.0", "a - b - 1.0", "a / b", "-a * -2.0", "(a + b) / (a - b)", "yes && no", "yes || no", "!no",
    "yes ? a : b", "no ? a : yes ? b : a", "word == 'solid'", "word != 'solid'", "word in ['solid', 'wide']",
    "word in ['wide']", "a < b", "a < 3.0", "a >= 3.0", "a > 3.0", "b <= -0.5", "no && missing == 'x'",
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


# Expressions as nobody would write them, made at random from a seed, to the notation's own grammar.
SEED, COUNT = 20261125, 2000
TYPES = {"a": "number", "b": "number", "zero": "number", "yes": "flag", "no": "flag", "word": "text"}
WRITTEN = {
    "number": ["{number} + {number}", "{number} - {number}", "{number} * {number}", "{number} / {number}",
               "-({number})", "({flag} ? {number} : {number})", "max({number}, {number})", "abs({number})",
               "floor_mm({number})", "up_to_half({number})", "sqrt({number})"],
    "flag": ["less({number}, {number})", "more({number}, {number})", "{flag} && {flag}", "{flag} || {flag}",
             "!({flag})", "({flag} ? {flag} : {flag})", "{text} == {text}", "{text} in ['solid', 'wide']",
             "{text} != {text}", "{flag} == {flag}"],
    "text": ["({flag} ? {text} : {text})"],
}  # fmt: skip
ENDS = {
    "number": ["a", "b", "zero", "0.1", "19.05", "1.5", "400.0"],
    "flag": ["yes", "no", "true", "false"],
    "text": ["word", "'solid'", "'wide'"],
}


def written(dice: random.Random, kind: str, levels: int) -> str:
    if not levels or dice.random() < 0.15:
        return dice.choice(ENDS[kind])
    text = dice.choice(WRITTEN[kind])
    for part in ("number", "flag", "text"):
        while f"{{{part}}}" in text:
            text = text.replace(f"{{{part}}}", f"({written(dice, part, levels - 1)})", 1)
    return text


def random_expressions() -> list[str]:
    print(f"seed {SEED}")
    dice = random.Random(SEED)
    made = (written(dice, dice.choice(["flag", "number"]), dice.randint(1, 4)) for _ in range(4 * COUNT))
    return [source for source in made if len(source) <= 400][:COUNT]


def test_three_engines_agree_on_whatever_can_be_written(js):
    sources = random_expressions()
    trees = [read_expression(source) for source in sources]
    functions = {name: function for name, (function, _, _) in FUNCTIONS.items()}
    context = cel.Context(variables=KNOWN, functions=functions)
    ask = "((module, [trees, known]) => trees.map((tree) => module.valueOf(tree, known) ?? null))"

    ours = [value_of(tree, KNOWN) for tree in trees]
    oracle = [cel.compile(source).execute(context) for source in sources]

    assert len(ours) == COUNT
    assert all(type_of(read_placed(source), TYPES) in ("flag", "number") for source in sources)
    assert js("book/evaluate.js").evaluate(ask, [trees, KNOWN]) == ours
    assert ours == [None if isinstance(v, float) and not math.isfinite(v) else v for v in oracle]
