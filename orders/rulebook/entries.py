"""One entry of the rule book, a figure or a check, read strictly and with its expressions as trees."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from orders.reckoning.entry import FIELDS
from orders.reckoning.language import said
from orders.rulebook.expression import ExpressionError, names_always_read, read_placed
from orders.rulebook.flag import LEVELS, PLACES
from orders.rulebook.givens import BookError
from orders.rulebook.sentences import names_in_sentence
from orders.rulebook.types import TypeMismatch, kind_in_words, type_of

_FIGURE_KEYS = frozenset(("id", "unit", "decimals", "needs", "formula", "says", "source", "case"))
_OF_CHECKS = "id level by any fields needs when says do at offer source case"
_CHECK_KEYS = frozenset(_OF_CHECKS.split())
_CASE_KEYS = frozenset(("when", "says", "do", "fields", "at", "offer", "level"))
_OFFER_KEYS = frozenset(("field", "value", "when"))
# These are asked on the sheet but stand beside the entry.
_SHEET_FIELDS = FIELDS | {"workshop", "photos"}


def typed_tree(source: str, types: Mapping[str, str], wanted: str | None = "flag"):
    """An expression's tree, its type checked.

    Parameters
    ----------
    source : str
        In the notation of expression.py.
    types : mapping
        Type of every quantity, by name.
    wanted : str or None
        The type it has to have; None for any.

    Raises
    ------
    ExpressionError
        With the place of the mistake, in characters from 1, and what is wrong.
    """
    placed = read_placed(source)
    found = type_of(placed, types)
    if wanted and found != wanted:
        raise TypeMismatch(
            placed.place,
            said(
                "this gives {found}, not {wanted}.",
                found=kind_in_words(found),
                wanted=kind_in_words(wanted),
            ),
        )
    return placed.tree


@dataclass(frozen=True)
class _Entry:
    """An entry, or a part of one, as it is read; `under` is the path of the part, "" or ending in a dot."""

    id: str
    value: Mapping
    types: Mapping[str, str]
    under: str = ""

    def error(self, says: str, key: str = "", place: int | None = None) -> BookError:
        return BookError(self.id, says, (self.under + key).rstrip("."), place)

    def within(self, key: str, value: Mapping) -> "_Entry":
        return replace(self, value=value, under=f"{self.under}{key}.")

    def cases(self) -> list["_Entry"]:
        return [self.within(f"case.{n}", case) for n, case in enumerate(self.value.get("case") or [])]

    def refuse_other_keys(self, keys: frozenset[str]) -> None:
        for key in self.value:
            if key not in keys:
                raise self.error(said("has an unknown key “{key}”.", key=key), key)

    def text(self, key: str) -> str:
        text = self.value.get(key)
        if not isinstance(text, str) or not text.strip():
            raise self.error(said("has no {key}.", key=key), key)
        return text

    def tree(self, key: str, wanted: str | None = "flag"):
        source = self.text(key)
        try:
            return typed_tree(source, self.types, wanted)
        except ExpressionError as error:
            says = said(
                "in “{source}” at character {place}: {says}",
                source=_short(source),
                place=error.place,
                says=error.says,
            )
            raise self.error(says, key, error.place) from None

    def needs(self, tree) -> list[str]:
        """What it needs: at least every name that is looked up whatever the values."""
        needs = self.value.get("needs") or []
        for name in needs:
            if name not in self.types:
                raise self.error(said("needs “{name}”, which nothing is called.", name=name), "needs")
        missing = names_always_read(tree) - set(needs)
        if missing:
            raise self.error(
                said("reads {words} without listing it under needs.", words=", ".join(sorted(missing))),
                "needs",
            )
        return list(needs)

    def sentence(self, key: str) -> str:
        text = self.text(key)
        for name in sorted(names_in_sentence(text)):
            if name not in self.types:
                raise self.error(
                    said("its sentence speaks of “{name}”, which nothing is called.", name=name), key
                )
        return text

    def fields(self) -> list[str]:
        fields = self.value.get("fields") or []
        for field in fields:
            self.refuse_unasked("fields", field)
        return list(fields)

    def refuse_unasked(self, key: str, field: str) -> None:
        if field not in _SHEET_FIELDS:
            raise self.error(said("the sheet has no field “{field}”.", field=field), key)

    def level(self) -> str:
        level = self.value.get("level")
        if level not in LEVELS:
            raise self.error(said("“{level}” is no level.", level=level), "level")
        return level

    def at(self) -> str:
        place = self.value.get("at")
        if place not in PLACES:
            raise self.error(said("“{place}” is no place on the figure.", place=place), "at")
        return place

    def offer(self) -> dict | None:
        if not self.value.get("offer"):
            return None
        offer = self.within("offer", self.value["offer"])
        offer.refuse_other_keys(_OFFER_KEYS)
        field = offer.text("field")
        offer.refuse_unasked("field", field)
        read = {"field": field, "value": offer.sentence("value")}
        if offer.value.get("when"):
            read["tree"] = offer.tree("when")
        return read


def _short(source: str) -> str:
    return source if len(source) <= 60 else source[:57] + "…"


def _check_case(case: _Entry) -> dict:
    case.refuse_other_keys(_CASE_KEYS)
    read = {"tree": case.tree("when"), "says": case.sentence("says"), "fields": case.fields()}
    if case.value.get("at"):
        read["at"] = case.at()
    if case.value.get("level"):
        read["level"] = case.level()
    if case.value.get("do"):
        read["do"] = case.sentence("do")
    if offer := case.offer():
        read["offer"] = offer
    return read


def _begun(kind: str, value: Mapping, types: Mapping[str, str], keys: frozenset[str]) -> _Entry:
    entry = _Entry(_Entry(kind, value, types).text("id"), value, types)
    entry.refuse_other_keys(keys)
    entry.text("source")
    return entry


def read_figure(value: Mapping, types: Mapping[str, str]) -> dict:
    """A figure: one formula with its unit, its needs, its sentence and its source.

    Raises
    ------
    BookError
        With the figure's id and the part that is wrong.
    """
    entry = _begun("figure", value, types, _FIGURE_KEYS)
    tree = entry.tree("formula", types[entry.id])
    cases = [{"tree": case.tree("when"), "says": case.sentence("says")} for case in entry.cases()]
    return {
        "id": entry.id,
        "unit": value.get("unit", ""),
        "decimals": value.get("decimals", 3),
        "needs": entry.needs(tree),
        "tree": tree,
        "says": entry.sentence("says"),
        "cases": cases,
    }


def read_check(value: Mapping, types: Mapping[str, str]) -> dict:
    """A check: one question, its level, its sentence, what to do, its place and its source.

    Raises
    ------
    BookError
        With the check's id, the part that is wrong and, in an expression, the place.
    """
    entry = _begun("check", value, types, _CHECK_KEYS)
    read = {"id": entry.id, "level": entry.level(), "do": entry.sentence("do")}
    if value.get("by"):
        return read | {"by": value["by"]}
    tree = None if value.get("any") else entry.tree("when")
    if tree is None and not value.get("case"):
        raise entry.error(said("has neither a question nor cases."), "when")
    return read | {
        "fields": entry.fields(),
        "at": entry.at(),
        "needs": entry.needs(tree),
        "tree": tree,
        "says": entry.sentence("says"),
        "offer": entry.offer(),
        "cases": [_check_case(case) for case in entry.cases()],
    }
