"""One entry of the rule book, a figure or a check, read strictly and with its expressions as trees."""

from collections.abc import Mapping

from orders.reckoning.entry import FIELDS
from orders.rulebook.expression import ExpressionError, names_always_read, read_expression
from orders.rulebook.flag import LEVELS, PLACES
from orders.rulebook.givens import BookError
from orders.rulebook.sentences import names_in_sentence
from orders.rulebook.types import TypeMismatch, type_of

_FIGURE_KEYS = frozenset(("id", "unit", "decimals", "needs", "formula", "says", "source", "case"))
_OF_CHECKS = "id level by any fields needs when says do at offer source case"
_CHECK_KEYS = frozenset(_OF_CHECKS.split())
_CASE_KEYS = frozenset(("when", "says", "do", "fields", "at", "offer", "level"))
_OFFER_KEYS = frozenset(("field", "value", "when"))
# These are asked on the sheet but stand beside the entry.
_SHEET_FIELDS = FIELDS | {"workshop", "photos"}


def tree_of(entry: str, source: str, types: Mapping[str, str], wanted: str | None = "flag"):
    """An expression's tree, its type checked.

    Raises
    ------
    BookError
        With the entry's id and, where there is one, the place of the mistake.
    """
    try:
        tree = read_expression(source)
        found = type_of(tree, types)
    except (ExpressionError, TypeMismatch) as error:
        raise BookError(entry, f"in “{_short(source)}” {error}") from None
    if wanted and found != wanted:
        raise BookError(entry, f"“{_short(source)}” gives a {found}, not a {wanted}.")
    return tree


def _short(source: str) -> str:
    return source if len(source) <= 60 else source[:57] + "…"


def _refuse_keys(entry: str, value: Mapping, keys: frozenset[str]) -> None:
    for key in value:
        if key not in keys:
            raise BookError(entry, f"has an unknown key “{key}”.")


def _text(entry: str, value: Mapping, key: str) -> str:
    text = value.get(key)
    if not isinstance(text, str) or not text.strip():
        raise BookError(entry, f"has no {key}.")
    return text


def _needs(entry: str, value: Mapping, tree, types: Mapping[str, str]) -> list[str]:
    """What it needs: at least every name that is looked up whatever the values."""
    needs = value.get("needs") or []
    for name in needs:
        if name not in types:
            raise BookError(entry, f"needs “{name}”, which nothing is called.")
    missing = names_always_read(tree) - set(needs)
    if missing:
        raise BookError(entry, f"reads {', '.join(sorted(missing))} without listing it under needs.")
    return list(needs)


def _sentence(entry: str, value: Mapping, key: str, types: Mapping[str, str]) -> str:
    text = _text(entry, value, key)
    for name in sorted(names_in_sentence(text)):
        if name not in types:
            raise BookError(entry, f"its sentence speaks of “{name}”, which nothing is called.")
    return text


def _fields(entry: str, value: Mapping) -> list[str]:
    fields = value.get("fields") or []
    for field in fields:
        if field not in _SHEET_FIELDS:
            raise BookError(entry, f"the sheet has no field “{field}”.")
    return list(fields)


def _level(entry: str, value: Mapping) -> str:
    if value.get("level") not in LEVELS:
        raise BookError(entry, f"“{value.get('level')}” is no level.")
    return value["level"]


def _at(entry: str, place: object) -> object:
    if place not in PLACES:
        raise BookError(entry, f"“{place}” is no place on the figure.")
    return place


def _offer(entry: str, offer: Mapping | None, types: Mapping[str, str]) -> dict | None:
    if offer is None:
        return None
    _refuse_keys(entry, offer, _OFFER_KEYS)
    _fields(entry, {"fields": [offer["field"]]})
    read = {"field": offer["field"], "value": _sentence(entry, offer, "value", types)}
    if offer.get("when"):
        read["tree"] = tree_of(entry, offer["when"], types)
    return read


def _check_case(entry: str, case: Mapping, types: Mapping[str, str]) -> dict:
    _refuse_keys(entry, case, _CASE_KEYS)
    read = {
        "tree": tree_of(entry, _text(entry, case, "when"), types),
        "says": _sentence(entry, case, "says", types),
        "fields": _fields(entry, case),
    }
    if case.get("at"):
        read["at"] = _at(entry, case["at"])
    if case.get("level"):
        read["level"] = _level(entry, case)
    if case.get("do"):
        read["do"] = _sentence(entry, case, "do", types)
    if case.get("offer"):
        read["offer"] = _offer(entry, case["offer"], types)
    return read


def read_figure(value: Mapping, types: Mapping[str, str]) -> dict:
    """A figure: one formula with its unit, its needs, its sentence and its source.

    Raises
    ------
    BookError
        With the figure's id.
    """
    entry = _text("figure", value, "id")
    _refuse_keys(entry, value, _FIGURE_KEYS)
    _text(entry, value, "source")
    tree = tree_of(entry, _text(entry, value, "formula"), types, types[entry])
    cases = [
        {
            "tree": tree_of(entry, _text(entry, case, "when"), types),
            "says": _sentence(entry, case, "says", types),
        }
        for case in value.get("case", [])
    ]
    return {
        "id": entry,
        "unit": value.get("unit", ""),
        "decimals": value.get("decimals", 3),
        "needs": _needs(entry, value, tree, types),
        "tree": tree,
        "says": _sentence(entry, value, "says", types),
        "cases": cases,
    }


def read_check(value: Mapping, types: Mapping[str, str]) -> dict:
    """A check: one question, its level, its sentence, what to do, its place and its source.

    Raises
    ------
    BookError
        With the check's id.
    """
    entry = _text("check", value, "id")
    _refuse_keys(entry, value, _CHECK_KEYS)
    _text(entry, value, "source")
    read = {"id": entry, "level": _level(entry, value), "do": _sentence(entry, value, "do", types)}
    if value.get("by"):
        return read | {"by": value["by"]}
    tree = None if value.get("any") else tree_of(entry, _text(entry, value, "when"), types)
    if tree is None and not value.get("case"):
        raise BookError(entry, "has neither a question nor cases.")
    return read | {
        "fields": _fields(entry, value),
        "at": _at(entry, value.get("at")),
        "needs": _needs(entry, value, tree, types),
        "tree": tree,
        "says": _sentence(entry, value, "says", types),
        "offer": _offer(entry, value.get("offer"), types),
        "cases": [_check_case(entry, case, types) for case in value.get("case") or []],
    }
