"""The quantities that formulas and checks start from: their names and types, as givens.toml lists them."""

from collections.abc import Mapping

from orders.reckoning.entry import FIELDS, words_of
from orders.rulebook.flag import PLACES
from orders.rulebook.types import OneOf

_READS = {
    "choice": "text",
    "flag": "flag",
    "reading": "number",
    "signed": "number",
    "number": "number",
    "presence": "flag",
}
_TYPES = ("number", "text", "flag")
_BESIDE_KEYS = {"type", "what", "unit", "source"}
_MEASURED = ("reading", "signed", "number")
# What may stand beside a given's field and way of reading, by that way.
_BESIDE_READING = {"reading": {"above_nought"}, "number": {"least", "most"}}


class BookError(ValueError):
    """A rule book, or a workshop's own check, that can't be used.

    Attributes
    ----------
    entry : str
        Which entry of the book, by its id.
    says : str
        What is wrong.
    part : str
        Which part of the entry, by its dotted path: ``when``, ``case.0.says``; "" for the whole.
    place : int or None
        Where in an expression, counted in characters from 1.
    """

    def __init__(self, entry: str, says: str, part: str = "", place: int | None = None):
        super().__init__(f"{entry}: {says}")
        self.entry, self.says, self.part, self.place = entry, says, part, place


def given_name(name: str) -> str:
    """The flag that says whether a measurement was given at all: gap_entered_mm, gap_entered_given."""
    return name.rsplit("_", 1)[0] + "_given"


def types_of_givens(givens: Mapping[str, Mapping]) -> dict[str, str]:
    """Type of every given quantity, by name.

    Raises
    ------
    BookError
        For a field the entry doesn't have, a way of reading or a type there isn't, or a name given twice.
    """
    types: dict[str, str] = {}
    for name, given in givens["entry"].items():
        _refuse_unreadable(name, given)
        _add(types, name, _type_read(given))
        if given["read"] in _MEASURED:
            _add(types, given_name(name), "flag")
    for name in givens["catalogue"]:
        _add(types, name, "number")
    for name, given in givens["beside"].items():
        _refuse_undescribed(name, given)
        _add(types, name, given["type"])
    for part in ("readings", "options", "geometry", "server"):
        for name, kind in givens[part].items():
            if kind not in _TYPES:
                raise BookError(name, f"“{kind}” is no type.")
            _add(types, name, kind)
    return types


def _type_read(given: Mapping) -> str:
    """The type of what is read of an entry; of a choice with its words, and with what stands when it is left out."""
    words = words_of(given["field"]) if given["read"] == "choice" else ()
    return OneOf((*words, *filter(None, [given.get("default")]))) if words else _READS[given["read"]]


def _refuse_undescribed(name: str, given: Mapping) -> None:
    """Refuses what stands beside the entry without saying what it is and where it comes from."""
    if given.keys() != _BESIDE_KEYS or not given["what"] or not given["source"]:
        raise BookError(name, "doesn't say its type, what it is, its unit and its source.")
    if given["type"] not in _TYPES:
        raise BookError(name, f"“{given['type']}” is no type.")


def _add(types: dict[str, str], name: str, kind: str) -> None:
    if name in types:
        raise BookError(name, "is given twice.")
    types[name] = kind


def _refuse_unreadable(name: str, given: Mapping) -> None:
    if given["field"] not in FIELDS:
        raise BookError(name, f"the entry has no field “{given['field']}”.")
    if given["read"] not in _READS:
        raise BookError(name, f"“{given['read']}” is no way of reading.")
    if given["read"] in _MEASURED and given.get("at") not in PLACES:
        raise BookError(name, "has no place on the figure.")
    known = {"field", "read", "default"} | _BESIDE_READING.get(given["read"], set())
    known |= {"at", "quantity"} if given["read"] in _MEASURED else set()
    if unknown := given.keys() - known:
        raise BookError(name, f"has no use for “{min(unknown)}”.")
    if "above_nought" in given and given["above_nought"] is not True:
        raise BookError(name, "can only say above_nought = true.")
