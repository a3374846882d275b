"""A workshop's own checks: read from its catalogue like entries of the rule book, with the same refusals.

They rest on what the sheet and the catalogue say, so that phone and server raise them alike; a note may also rest on
what only the server works out.
"""

import json
from collections.abc import Mapping, Sequence
from functools import lru_cache

from orders.reckoning.language import said
from orders.rulebook.book import Book, load_book, refuse_unheard
from orders.rulebook.entries import read_check, typed_tree
from orders.rulebook.expression import ExpressionError, names_always_read

__all__ = ["ExpressionError", "own_checks", "read_question"]


def read_question(text: str, book: Book | None = None):
    """The tree of one question of an own check, as a workshop has typed it.

    Parameters
    ----------
    text : str
        In the rule book's notation, at most 400 characters and 24 levels deep, and giving yes or no:
        ``less(finished_length_mm, 280.0) && level == 'transfemoral'``.

    Raises
    ------
    ExpressionError
        With `place`, the character of the mistake counted from 1, and `says`, what is wrong, as a sentence.
    """
    if not text.strip():
        raise ExpressionError(1, said("the question is missing."))
    return typed_tree(text, (book or load_book()).types)


@lru_cache(maxsize=64)
def _read(checks_json: str, book: Book) -> tuple[dict, ...]:
    return tuple(_checked(_without_none(check), book) for check in json.loads(checks_json))


def _checked(check: dict, book: Book) -> dict:
    """One check; what it needs, where the workshop doesn't say, is all that its question always looks up."""
    if not check.get("needs"):
        check |= {"needs": sorted(names_always_read(_tree_or_none(check, book)))}
    read = read_check(check, book.types)
    refuse_unheard(read, book)
    return read


def _tree_or_none(check: Mapping, book: Book):
    """The question's tree; what can't be read is refused in its turn, with its check."""
    try:
        return typed_tree(check.get("when") or "", book.types)
    except ExpressionError:
        return None


def _without_none(value):
    if isinstance(value, dict):
        return {key: _without_none(part) for key, part in value.items() if part is not None}
    return [_without_none(part) for part in value] if isinstance(value, list) else value


def own_checks(checks: Sequence[Mapping], book: Book | None = None) -> tuple[dict, ...]:
    """A catalogue's checks with their trees.

    Parameters
    ----------
    checks : list
        As `read_catalogue` gives them.

    Raises
    ------
    BookError
        With the check's id, what is wrong, in which part and, in an expression, where.
    """
    return _read(json.dumps(list(checks), sort_keys=True), book or load_book())
