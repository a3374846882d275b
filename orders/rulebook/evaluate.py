"""Runs a tree of the rule book's notation. Twin: static/js/book/evaluate.js.

Trees are checked when the book is loaded (names, types, depth), so nothing is checked again here.
"""

import math
from collections.abc import Mapping

from orders.rulebook.functions import FUNCTIONS


class Unknown(LookupError):
    """A quantity that an expression needs isn't known."""


def _divided(a: float, b: float) -> float:
    """IEEE 754 division, as CEL and JavaScript have it; Python would raise on nought."""
    if b != 0.0:
        return a / b
    if a == 0.0 or math.isnan(a):
        return math.nan
    return math.copysign(math.inf, a) * math.copysign(1.0, b)


_OPERATORS = {
    "+": lambda a, b=None: a + b,
    "*": lambda a, b: a * b,
    "/": _divided,
    "==": lambda a, b: a == b,
    "!=": lambda a, b: a != b,
    "<": lambda a, b: a < b,
    ">": lambda a, b: a > b,
    "<=": lambda a, b: a <= b,
    ">=": lambda a, b: a >= b,
    "-": lambda a, b=None: -a if b is None else a - b,
    "!": lambda a: not a,
} | {name: function for name, (function, _, _) in FUNCTIONS.items()}


def evaluate(tree, known: Mapping[str, float | str | bool]):
    """The value of a tree.

    Parameters
    ----------
    tree
        As `read_expression` gives it.
    known : mapping
        The quantities by name; None, or no such key, is not known.

    Raises
    ------
    Unknown
        If a quantity that has to be looked up isn't known.
    """
    if isinstance(tree, str):
        value = known.get(tree)
        if value is None:
            raise Unknown(tree)
        return value
    if isinstance(tree, dict):
        return tree["text"]
    if not isinstance(tree, list):
        return tree
    sign = tree[0]
    if sign == "?":
        return evaluate(tree[2] if evaluate(tree[1], known) else tree[3], known)
    if sign == "&&":
        return evaluate(tree[1], known) and evaluate(tree[2], known)
    if sign == "||":
        return evaluate(tree[1], known) or evaluate(tree[2], known)
    if sign == "in":
        return evaluate(tree[1], known) in tree[2]
    return _OPERATORS[sign](*[evaluate(part, known) for part in tree[1:]])


def value_of(tree, known: Mapping[str, float | str | bool]):
    """As `evaluate`, but None where something isn't known or the result is no finite number."""
    try:
        value = evaluate(tree, known)
    except Unknown:
        return None
    return None if isinstance(value, float) and not math.isfinite(value) else value
