"""A workshop's own checks: read from its catalogue like entries of the rule book, with the same refusals."""

import json
from collections.abc import Mapping, Sequence
from functools import lru_cache

from orders.rulebook.book import Book, load_book
from orders.rulebook.entries import read_check


@lru_cache(maxsize=64)
def _read(checks_json: str, book: Book) -> tuple[dict, ...]:
    return tuple(read_check(_without_none(check), book.types) for check in json.loads(checks_json))


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
        With the check's id, what is wrong and, in an expression, where.
    """
    return _read(json.dumps(list(checks), sort_keys=True), book or load_book())
