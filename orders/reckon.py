"""The one call: an entry and a catalogue become the result, its figures, their derivations and the flags.

Pure: no Django, no clock, no files but the rule book's own. Twin: static/js/book/reckon.js.
"""

from collections.abc import Mapping

from orders.reckoning.catalogue import CatalogueError, read_catalogue
from orders.reckoning.entry import EntryError, read_entry
from orders.reckoning.language import in_english
from orders.reckoning.result import EXPLAINED, FIGURES, SCHEMA, rounded
from orders.rulebook.beside import BesideError, read_beside
from orders.rulebook.book import Book, load_book
from orders.rulebook.checks import add_figures, derivation, derivation_kept, flags_of
from orders.rulebook.flag import Flag, in_order
from orders.rulebook.geometry import Worked, worked
from orders.rulebook.options import chosen, limits
from orders.rulebook.own_checks import own_checks
from orders.rulebook.readings import read_givens
from orders.rulebook.sentences import follows_as_sentence

__all__ = ["ENGINE_VERSION", "BesideError", "CatalogueError", "EntryError", "catalogue_for_phone", "reckon"]

# Raised when the same entry, catalogue and book would give other numbers than before.
ENGINE_VERSION = 1


def catalogue_for_phone(catalogue: Mapping, book: Book | None = None) -> dict:
    """A catalogue with its own checks' expressions as trees, under ``own_checks``, as the phone runs them.

    Raises
    ------
    CatalogueError, BookError
        If the catalogue, or one of its own checks, can't be used.
    """
    read = read_catalogue(catalogue)
    return read | {"own_checks": list(own_checks(read["checks"], book))}


def reckon(
    entry: Mapping,
    catalogue: Mapping,
    *,
    beside: Mapping | None = None,
    book: Book | None = None,
    told: bool = False,
) -> dict:
    """Reckon one shell.

    Parameters
    ----------
    entry : mapping
        What was captured for one shell; the key set of orders/reckoning/entry.py.
    catalogue : mapping
        What the workshop makes; the key set of orders/reckoning/catalogue.py.
    beside : mapping, optional
        Quantities that come from photos and earlier orders, by the names of the table ``beside`` in
        orders/rulebook/givens.toml (its shape: orders/rulebook/beside.py). Checks that need one keep quiet
        without it.
    book : Book, optional
        The rule book; the program's own if left out.
    told : bool
        Whether the result also keeps, under ``told``, what its sentences are made of, so that they can be said in any
        language (orders/rulebook/told.py). Of themselves they are English.

    Returns
    -------
    dict
        The result as JSON values: figures (mm, g, kg m²; None where not known), ``stations``,
        ``clearances``, ``hcpcs``, ``derivations`` in words, ``mechanism`` and ``suggestions`` where there are any,
        ``flags`` (stops first) and ``sendable``.

    Raises
    ------
    EntryError, CatalogueError
        For an entry or a catalogue that can't be read, with the field's path.
    BesideError
        For a quantity beside the entry that the book doesn't know, or of another type.
    """
    book = book or load_book()
    entry, catalogue = read_entry(entry), read_catalogue(catalogue)
    with in_english():
        known, shape, flags = _reckoned(entry, catalogue, beside, book)
        result = _result(book, known, shape, flags, entry["answers"] or {})
    return result | {"told": _told(book, known, flags)} if told else result


def _reckoned(
    entry: Mapping, catalogue: Mapping, beside: Mapping | None, book: Book
) -> tuple[dict, Worked, list[Flag]]:
    known, read_flags, shape = quantities(entry, catalogue, beside, book)
    checks = (*book.checks, *own_checks(catalogue["checks"], book))
    flags = in_order([*read_flags, *flags_of(checks, known)])
    return known, shape, flags


def _told(book: Book, known: Mapping, flags: list[Flag]) -> dict:
    """What the flags and the derivations say, kept; None for a flag that is none of the book's sentences."""
    figures = {figure["id"]: figure for figure in book.figures}
    return {
        "flags": [flag.told for flag in flags],
        "derivations": {name: derivation_kept(figures[name], known) for name in EXPLAINED if name in known},
    }


def quantities(
    entry: Mapping, catalogue: Mapping, beside: Mapping | None, book: Book
) -> tuple[dict, list[Flag], Worked]:
    """Everything that can be known of an entry, by name; the flags of readings; and what isn't scalar.

    Takes an entry and a catalogue that were read already.
    """
    by_reading = {check["id"]: check for check in book.checks if "by" in check}
    read = read_givens(entry, book.givens["entry"], by_reading)
    known = read.known | limits(catalogue, book.givens["catalogue"]) | chosen(entry["shell"], catalogue)
    known |= read_beside(beside, book.givens["beside"])
    add_figures(known, book.figures, stage=1)
    shape = worked(known, read, catalogue, entry["shell"])
    known |= shape.known
    add_figures(known, book.figures, stage=2)
    known["follows"] = follows_as_sentence(known)
    return known, read.flags, shape


def _result(book: Book, known: Mapping, shape: Worked, flags: list[Flag], answers: Mapping[str, str]) -> dict:
    figures = {figure["id"]: figure for figure in book.figures}
    return {
        "schema": SCHEMA,
        **{name: _figure(known.get(name), figures[name]["decimals"]) for name in FIGURES},
        "stations": shape.stations,
        "clearances": shape.clearances,
        "hcpcs": known.get("hcpcs"),
        "derivations": {name: derivation(figures[name], known) for name in EXPLAINED if name in known},
        **_where_there_is({"mechanism": shape.mechanism, "suggestions": _suggestions(figures, known)}),
        "flags": [flag.to_json() for flag in flags],
        "sendable": _sendable(known, flags, answers),
    }


def _where_there_is(parts: Mapping) -> dict:
    return {key: part for key, part in parts.items() if part}


def _suggestions(figures: Mapping, known: Mapping) -> dict:
    """What could stand where nothing can be measured. [mm]"""
    if not known.get("girth_suggested"):
        return {}
    names = {
        "girth_mm": "likely_girth_mm",
        "least_mm": "likely_girth_least_mm",
        "most_mm": "likely_girth_most_mm",
    }
    numbers = {key: rounded(known[name]) for key, name in names.items()}
    return {"girth": numbers | {"says": derivation(figures["likely_girth_mm"], known)}}


def _figure(value, decimals: int):
    if not isinstance(value, float):
        return value
    return rounded(value, decimals) if decimals else int(value)


def _sendable(known: Mapping, flags: list[Flag], answers: Mapping[str, str]) -> bool:
    """No stop stands, every explain has its answer, and there is something to make."""
    answered = all(answers.get(flag.id, "").strip() for flag in flags if flag.level == "explain")
    stopped = any(flag.level == "stop" for flag in flags)
    return answered and not stopped and "finished_length_mm" in known and "girth_mm" in known
