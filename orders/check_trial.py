"""A workshop's question or check, tried on one entry before it is saved. Pure, like orders/reckon.py."""

from collections.abc import Mapping
from dataclasses import dataclass

from orders.reckon import quantities
from orders.reckoning.catalogue import read_catalogue
from orders.reckoning.entry import read_entry
from orders.rulebook.book import Book, load_book
from orders.rulebook.checks import flag_of
from orders.rulebook.evaluate import value_of
from orders.rulebook.expression import names_in
from orders.rulebook.flag import Flag
from orders.rulebook.own_checks import own_checks, read_question
from orders.rulebook.sentences import shown


@dataclass(frozen=True)
class Trial:
    """What came of it.

    Attributes
    ----------
    holds : bool or None
        What the question answers; None where a quantity that it looks up isn't known, so that it keeps quiet.
    seen : dict
        Every quantity that the question speaks of as a person reads it, by name: "401 mm", "yes", "solid", or "?"
        where it isn't known.
    flag : Flag or None
        What the whole check says; None from a question alone, and where the check doesn't say anything.
    """

    holds: bool | None
    seen: dict[str, str]
    flag: Flag | None = None


def try_question(text: str, entry: Mapping, catalogue: Mapping, book: Book | None = None) -> Trial:
    """A question as typed, on one entry.

    Parameters
    ----------
    text : str
        In the rule book's notation, giving yes or no.
    entry, catalogue : mapping
        As `orders.reckon.reckon` takes them.

    Raises
    ------
    ExpressionError
        With the place of the mistake.
    EntryError, CatalogueError
        For an entry or a catalogue that can't be read.
    """
    book = book or load_book()
    return _trial(read_question(text, book), _known(entry, catalogue, book))


def try_check(check: Mapping, entry: Mapping, catalogue: Mapping, book: Book | None = None) -> Trial:
    """A whole check, in the shape of a catalogue's ``checks``, on one entry.

    Raises
    ------
    BookError
        With the part of the check that can't be used and, in an expression, the place.
    EntryError, CatalogueError
        For an entry or a catalogue that can't be read.
    """
    book = book or load_book()
    (read,) = own_checks([check], book)
    known = _known(entry, catalogue, book)
    return _trial(read["tree"], known, flag_of(read, known))


def _known(entry: Mapping, catalogue: Mapping, book: Book) -> dict:
    known, _, _ = quantities(read_entry(entry), read_catalogue(catalogue), None, book)
    return known


def _trial(tree, known: Mapping, flag: Flag | None = None) -> Trial:
    seen = {name: shown(name, known.get(name)) for name in sorted(names_in(tree))}
    return Trial(value_of(tree, known), seen, flag)
