"""The rule book's notation: a narrow part of CEL, the Common Expression Language, read into a JSON tree.

Kept of CEL: numbers (doubles, so always written with a point), texts, true and false, flat names, ``+ - * /``,
comparisons, ``&& || !``, ``? :``, ``in`` with a list of constants, and calls of our own functions. What is
kept means what it means in CEL. No macros, no fields of fields, no indexing.

A tree is made of: a number; a boolean; a name (``"gap_mm"``); a text (``{"text": "solid"}``); or a list whose
first member is an operator or a function's name: ``["+", a, b]``, ``["-", a]``, ``["?", a, b, c]``,
``["in", a, ["x", "y"]]``, ``["less", a, b]``.
"""

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from orders.reckoning.language import said

MOST_CHARACTERS = 400
MOST_DEPTH = 24

# CEL language definition, "Syntax": reserved words that can't be names.
_RESERVED_WORDS = """as break const continue else for function if import let loop package namespace return
var void while null in true false"""
_RESERVED = frozenset(_RESERVED_WORDS.split())
_TOKEN = re.compile(
    r"\s*(?:(?P<number>\d+\.\d+)|(?P<name>[A-Za-z_]\w*)|(?P<text>'[^'\\\n]*'|\"[^\"\\\n]*\")"
    r"|(?P<sign>&&|\|\||[<>=!]=|[-+*/<>!?:(),\[\]]))",
    re.ASCII,
)
_COMPARISONS = ("==", "!=", "<=", ">=", "<", ">", "in")


class ExpressionError(ValueError):
    """An expression that isn't in the notation.

    Attributes
    ----------
    place : int
        Where in the expression, counted in characters from 1.
    says : str
        What is wrong, in words.
    """

    def __init__(self, place: int, says: str):
        super().__init__(f"at character {place}: {says}")
        self.place, self.says = place, says


@dataclass(frozen=True)
class Placed:
    """A tree with the place, in characters from 1, of its sign or its only word; `parts` are those of its members."""

    tree: object
    place: int
    parts: tuple["Placed", ...] = ()


@dataclass(frozen=True)
class _Token:
    kind: str
    text: str
    place: int


def _tokens(source: str) -> list[_Token]:
    tokens, at = [], 0
    end = len(source.rstrip(" \t\r\n\v\f"))
    while at < end:
        match = _TOKEN.match(source, at)
        if not match:
            place = at + len(source[at:]) - len(source[at:].lstrip(" \t\r\n\v\f"))
            raise ExpressionError(place + 1, said("“{mark}” can't stand here.", mark=source[place]))
        kind = match.lastgroup or ""
        tokens.append(_Token(kind, match[kind], match.start(kind) + 1))
        at = match.end()
    return [*tokens, _Token("end", "", len(source) + 1)]


def _joined(token: _Token, *parts: Placed) -> Placed:
    return Placed([token.text, *(part.tree for part in parts)], token.place, parts)


def depth_of(tree) -> int:
    """How many levels deep a tree is; a number or a name is one level."""
    if not isinstance(tree, list):
        return 1
    return 1 + max((depth_of(part) for part in tree[1:]), default=0)


class _Reader:
    """Reads one expression by recursive descent, lowest precedence first, as in CEL's grammar."""

    def __init__(self, source: str):
        self.tokens, self.at, self.open = _tokens(source), 0, 0

    @property
    def next(self) -> _Token:
        return self.tokens[self.at]

    def take(self, *texts: str) -> _Token | None:
        token = self.next
        if token.kind in ("sign", "name") and token.text in texts:
            self.at += 1
            return token
        return None

    def expect(self, text: str) -> None:
        if not self.take(text):
            raise ExpressionError(
                self.next.place, said("“{text}” is missing before {what}.", text=text, what=self.named())
            )

    def named(self) -> str:
        return f"“{self.next.text}”" if self.next.text else said("the end")

    def choice(self) -> Placed:
        self.open += 1
        if self.open > MOST_DEPTH:
            raise ExpressionError(
                self.next.place, said("nested more than {most} levels deep.", most=MOST_DEPTH)
            )
        found = self.chain(("||",), self.both)
        if asked := self.take("?"):
            then = self.choice()
            self.expect(":")
            found = _joined(asked, found, then, self.choice())
        self.open -= 1
        return found

    def both(self) -> Placed:
        return self.chain(("&&",), self.comparison)

    def comparison(self) -> Placed:
        found = self.sum()
        if token := self.take(*_COMPARISONS):
            found = _joined(token, found, self.constants() if token.text == "in" else self.sum())
            if self.next.text in _COMPARISONS:
                raise ExpressionError(self.next.place, said("compare two things at a time."))
        return found

    def sum(self) -> Placed:
        return self.chain(("+", "-"), self.product)

    def product(self) -> Placed:
        return self.chain(("*", "/"), self.signed)

    def chain(self, signs: Sequence[str], part: Callable[[], Placed]) -> Placed:
        found = part()
        while token := self.take(*signs):
            found = _joined(token, found, part())
            if depth_of(found.tree) > MOST_DEPTH:
                raise ExpressionError(
                    token.place, said("nested more than {most} levels deep.", most=MOST_DEPTH)
                )
        return found

    def signed(self) -> Placed:
        token = self.take("!", "-")
        if not token:
            return self.single()
        if self.next.text == token.text:
            raise ExpressionError(self.next.place, said("one “{text}” is enough.", text=token.text))
        return _joined(token, self.single())

    def single(self) -> Placed:
        token = self.next
        self.at += 1
        if token.kind == "number":
            return Placed(float(token.text), token.place)
        if token.kind == "text":
            return Placed({"text": token.text[1:-1]}, token.place)
        if token.kind == "name":
            return self.named_thing(token)
        if token.text == "(":
            found = self.choice()
            self.expect(")")
            return found
        self.at -= 1
        raise ExpressionError(
            token.place, said("a number, a name or a text is missing before {what}.", what=self.named())
        )

    def named_thing(self, token: _Token) -> Placed:
        if token.text in ("true", "false"):
            return Placed(token.text == "true", token.place)
        if token.text in _RESERVED:
            raise ExpressionError(token.place, said("“{text}” can't be a name.", text=token.text))
        if not self.take("("):
            return Placed(token.text, token.place)
        arguments = [] if self.next.text == ")" else self.list_of(self.choice)
        self.expect(")")
        return _joined(token, *arguments)

    def list_of(self, part: Callable) -> list:
        parts = [part()]
        while self.take(","):
            parts.append(part())
        return parts

    def constants(self) -> Placed:
        place = self.next.place
        self.expect("[")
        texts = self.list_of(self.constant)
        self.expect("]")
        return Placed(texts, place)

    def constant(self) -> str:
        if self.next.kind != "text":
            raise ExpressionError(self.next.place, said("a list after “in” holds texts only."))
        self.at += 1
        return self.tokens[self.at - 1].text[1:-1]


def _refuse_whole_numbers(source: str) -> None:
    """In CEL ``2`` is a whole number, which divides and adds otherwise than ``2.0``: so it is refused."""
    bare = re.sub(r"'[^']*'|\"[^\"]*\"", lambda text: " " * len(text[0]), source)
    if match := re.search(r"(?<![\w.])\d+(?![\w.])", bare):
        raise ExpressionError(match.start() + 1, said("write {number} as {number}.0.", number=match[0]))


def read_expression(source: str):
    """The tree of an expression.

    Parameters
    ----------
    source : str
        At most 400 characters, nested at most 24 levels deep.

    Returns
    -------
    tree
        See the module's own description; plain JSON.

    Raises
    ------
    ExpressionError
        With the place of the mistake.
    """
    return read_placed(source).tree


def read_placed(source: str) -> Placed:
    """As `read_expression`, with the place of every part, so that what is found wrong later can still be pointed at."""
    if len(source) > MOST_CHARACTERS:
        says = said(
            "{count} characters are too many; {most} is the most.",
            count=len(source),
            most=MOST_CHARACTERS,
        )
        raise ExpressionError(MOST_CHARACTERS + 1, says)
    _refuse_whole_numbers(source)
    reader = _Reader(source)
    found = reader.choice()
    if reader.next.kind != "end":
        raise ExpressionError(reader.next.place, said("{what} can't stand here.", what=reader.named()))
    if depth_of(found.tree) > MOST_DEPTH:
        raise ExpressionError(1, said("nested more than {most} levels deep.", most=MOST_DEPTH))
    return found


def names_in(tree) -> frozenset[str]:
    """Every name that a tree speaks of, functions left out."""
    if isinstance(tree, str):
        return frozenset([tree])
    if not isinstance(tree, list):
        return frozenset()
    parts = tree[1:2] if tree[0] == "in" else tree[1:]
    return frozenset().union(*map(names_in, parts))


def names_always_read(tree) -> frozenset[str]:
    """The names that are looked up whatever the values: not those behind a ``?``, ``&&`` or ``||``."""
    if not isinstance(tree, list):
        return names_in(tree)
    parts = tree[1:2] if tree[0] in ("?", "&&", "||", "in") else tree[1:]
    return frozenset().union(*map(names_always_read, parts))
