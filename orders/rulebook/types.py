"""Which type an expression has: number, text or flag. Loading refuses what doesn't fit together."""

from collections.abc import Mapping

from orders.rulebook.functions import FUNCTIONS

_LOGIC = ("&&", "||")
_ORDER = ("<", ">", "<=", ">=")
_SUMS = ("+", "-", "*", "/")


class TypeMismatch(ValueError):
    """An expression whose parts don't fit together, or that speaks of something nobody defines."""


def type_of(tree, types: Mapping[str, str]) -> str:
    """The type of a tree: "number", "text" or "flag".

    Parameters
    ----------
    tree
        As `read_expression` gives it.
    types : mapping
        Type of every quantity, by name.

    Raises
    ------
    TypeMismatch
        For an unknown name or function, or parts that don't fit. Numbers compared by a sign don't fit either:
        `less` and `more` know how far apart two doubles must be to differ in fact.
    """
    if isinstance(tree, bool):
        return "flag"
    if isinstance(tree, float):
        return "number"
    if isinstance(tree, dict):
        return "text"
    if isinstance(tree, str):
        if tree not in types:
            raise TypeMismatch(f"nothing is called “{tree}”.")
        return types[tree]
    if tree[0] == "in":
        _want(tree[0], type_of(tree[1], types), "text")
        return "flag"
    parts = [type_of(part, types) for part in tree[1:]]
    return _joined(tree[0], parts)


def _want(sign: str, got: str, wanted: str) -> None:
    if got != wanted:
        raise TypeMismatch(f"“{sign}” takes a {wanted}, not a {got}.")


def _joined(sign: str, parts: list[str]) -> str:
    if sign == "?":
        _want(sign, parts[0], "flag")
        _want(sign, parts[2], parts[1])
        return parts[1]
    if sign in _LOGIC or sign == "!":
        for part in parts:
            _want(sign, part, "flag")
        return "flag"
    if sign in _SUMS:
        for part in parts:
            _want(sign, part, "number")
        return "number"
    if sign in _ORDER or sign in ("==", "!="):
        return _compared(sign, parts)
    return _called(sign, parts)


def _compared(sign: str, parts: list[str]) -> str:
    _want(sign, parts[1], parts[0])
    if sign in _ORDER:
        _want(sign, parts[0], "number")
    if parts[0] == "number":
        raise TypeMismatch(f"compare numbers with less(a, b) or more(a, b), not with “{sign}”.")
    return "flag"


def _called(name: str, parts: list[str]) -> str:
    if name not in FUNCTIONS:
        raise TypeMismatch(f"there is no function “{name}”.")
    _, takes, gives = FUNCTIONS[name]
    if len(parts) != len(takes):
        raise TypeMismatch(f"“{name}” takes {len(takes)} values, not {len(parts)}.")
    for part, wanted in zip(parts, takes, strict=True):
        _want(name, part, wanted)
    return gives
