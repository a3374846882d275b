"""Which type an expression has: number, text or flag. Loading refuses what doesn't fit together."""

from collections.abc import Iterable, Mapping, Sequence

from orders.reckoning.language import noop, said
from orders.rulebook.expression import ExpressionError, Placed
from orders.rulebook.functions import FUNCTIONS

_LOGIC = ("&&", "||", "!")
_ORDER = ("<", ">", "<=", ">=")
_SUMS = ("+", "-", "*", "/")


class OneOf(str):
    """The type "text" of a quantity that is always one of a few words, so that a misspelt one can be told."""

    words: tuple[str, ...]

    def __new__(cls, words: Iterable[str]) -> "OneOf":
        made = super().__new__(cls, "text")
        made.words = tuple(words)
        return made


# What an expression can give, in words.
_KINDS = {"number": noop("a number"), "text": noop("a text"), "flag": noop("a flag")}


def kind_in_words(kind: str) -> str:
    """A type as a person reads it: "a number"."""
    return said(_KINDS[kind])


class TypeMismatch(ExpressionError):
    """An expression whose parts don't fit together, or that speaks of something nobody defines."""


def type_of(placed: Placed, types: Mapping[str, str]) -> str:
    """The type of an expression: "number", "text" or "flag".

    Parameters
    ----------
    placed
        As `read_placed` gives it.
    types : mapping
        Type of every quantity, by name.

    Raises
    ------
    TypeMismatch
        For an unknown name or function, or parts that don't fit, with their place. Numbers compared by a sign don't
        fit either: `less` and `more` know how far apart two doubles must be to differ in fact.
    """
    tree = placed.tree
    if isinstance(tree, bool):
        return "flag"
    if isinstance(tree, float):
        return "number"
    if isinstance(tree, dict):
        return "text"
    if isinstance(tree, str):
        if tree not in types:
            raise TypeMismatch(placed.place, said("nothing is called “{tree}”.", tree=tree))
        return types[tree]
    if tree[0] == "in":
        kind = type_of(placed.parts[0], types)
        _want(placed, 0, kind, "text")
        for word in placed.parts[1].tree:
            _refuse_misspelt(kind, word, placed.parts[1].place)
        return "flag"
    return _joined(placed, [type_of(part, types) for part in placed.parts])


def _want(placed: Placed, part: int, got: str, wanted: str) -> None:
    if got != wanted:
        says = said(
            "“{sign}” takes {wanted}, not {got}.",
            sign=placed.tree[0],
            wanted=kind_in_words(wanted),
            got=kind_in_words(got),
        )
        raise TypeMismatch(placed.parts[part].place, says)


def _want_all(placed: Placed, parts: list[str], wanted: str) -> str:
    for n, got in enumerate(parts):
        _want(placed, n, got, wanted)
    return wanted


def _joined(placed: Placed, parts: list[str]) -> str:
    sign = placed.tree[0]
    if sign == "?":
        _want(placed, 0, parts[0], "flag")
        _want(placed, 2, parts[2], parts[1])
        return _either(placed.parts[1:], parts[1:])
    if sign in _LOGIC:
        return _want_all(placed, parts, "flag")
    if sign in _SUMS:
        return _want_all(placed, parts, "number")
    if sign in _ORDER or sign in ("==", "!="):
        return _compared(placed, parts)
    return _called(placed, parts)


def _either(ways: Sequence[Placed], kinds: Sequence[str]) -> str:
    """The type of what is one of these: it may be any word that one of them may be.

    Constants alone make no choice: they may be compared with any text, as a constant by itself may.
    """
    if not any(isinstance(kind, OneOf) for kind in kinds):
        return kinds[0]
    words: list[str] = []
    for way, kind in zip(ways, kinds, strict=True):
        if isinstance(way.tree, dict):
            words.append(way.tree["text"])
        elif isinstance(kind, OneOf):
            words += kind.words
        else:
            return kind
    return OneOf(dict.fromkeys(words))


def _compared(placed: Placed, parts: list[str]) -> str:
    sign = placed.tree[0]
    _want(placed, 1, parts[1], parts[0])
    if sign in _ORDER:
        _want(placed, 0, parts[0], "number")
    for kind, other in zip(parts, reversed(placed.parts), strict=True):
        if isinstance(other.tree, dict):
            _refuse_misspelt(kind, other.tree["text"], other.place)
    if parts[0] == "number":
        raise TypeMismatch(
            placed.place, said("compare numbers with less(a, b) or more(a, b), not with “{sign}”.", sign=sign)
        )
    return "flag"


def _refuse_misspelt(kind: str, word: str, place: int) -> None:
    """A word that the quantity never is would make a question that nothing answers with yes."""
    if isinstance(kind, OneOf) and word not in kind.words:
        raise TypeMismatch(
            place, said("“{word}” is none of {words}.", word=word, words=", ".join(kind.words))
        )


def _called(placed: Placed, parts: list[str]) -> str:
    name = placed.tree[0]
    if name not in FUNCTIONS:
        raise TypeMismatch(placed.place, said("there is no function “{name}”.", name=name))
    _, takes, gives = FUNCTIONS[name]
    if len(parts) != len(takes):
        raise TypeMismatch(
            placed.place,
            said(
                "“{name}” takes {count} values, not {given}.", name=name, count=len(takes), given=len(parts)
            ),
        )
    for n, (got, wanted) in enumerate(zip(parts, takes, strict=True)):
        _want(placed, n, got, wanted)
    return gives
