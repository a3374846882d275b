"""The quantities that formulas and checks start from: their names and types, as givens.toml lists them."""

from collections.abc import Mapping

from orders.reckoning.entry import FIELDS
from orders.rulebook.flag import PLACES

_READS = {
    "choice": "text",
    "flag": "flag",
    "reading": "number",
    "signed": "number",
    "number": "number",
    "presence": "flag",
}
_TYPES = ("number", "text", "flag")
_MEASURED = ("reading", "signed", "number")


class BookError(ValueError):
    """A rule book, or a workshop's own check, that can't be used.

    Attributes
    ----------
    entry : str
        Which entry of the book, by its id.
    says : str
        What is wrong.
    """

    def __init__(self, entry: str, says: str):
        super().__init__(f"{entry}: {says}")
        self.entry, self.says = entry, says


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
        _add(types, name, _READS[given["read"]])
        if given["read"] in _MEASURED:
            _add(types, given_name(name), "flag")
    for name in givens["catalogue"]:
        _add(types, name, "number")
    for part in ("readings", "options", "geometry"):
        for name, kind in givens[part].items():
            if kind not in _TYPES:
                raise BookError(name, f"“{kind}” is no type.")
            _add(types, name, kind)
    return types


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
