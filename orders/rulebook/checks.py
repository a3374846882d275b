"""Runs the rule book's figures and checks on what is known. Twin: static/js/book/checks.js."""

from collections.abc import Iterable, Mapping

from orders.rulebook.evaluate import value_of
from orders.rulebook.flag import LEVELS, Flag
from orders.rulebook.sentences import filled, names_in_sentence, printed, typed_value
from orders.rulebook.told import kept


def add_figures(known: dict, figures: Iterable[Mapping], stage: int) -> None:
    """Works out the figures of one stage, each after what it needs, and adds those that can be known."""
    for figure in figures:
        if figure["stage"] == stage and all(name in known for name in figure["needs"]):
            value = value_of(figure["tree"], known)
            if value is not None:
                known[figure["id"]] = value


def derivation(figure: Mapping, known: Mapping) -> str:
    """How a figure came about, in words: the first case that holds, else the plain sentence.

    With as few decimals, from one more than usual, as it takes for its formula to give, from the numbers as they are
    printed, the figure as it is printed; so that a person can follow it by hand.
    """
    says, finely = _derived(figure, known)
    return filled(says, known, finely=finely)


def derivation_kept(figure: Mapping, known: Mapping) -> dict:
    """As `derivation`, kept so that it can be said in any language."""
    says, finely = _derived(figure, known)
    return kept(says, known, finely)


def _derived(figure: Mapping, known: Mapping) -> tuple[str, int]:
    """The sentence that holds, and to how many decimals more than usual."""
    says = next((case["says"] for case in figure["cases"] if value_of(case["tree"], known)), figure["says"])
    names = names_in_sentence(says)
    return says, next((more for more in _FINELY if _adds_up(figure, names, known, more)), _FINELY[0])


# Decimals beyond the usual. Readings have four at most, the mean of two five.
_FINELY = (1, 2, 3, 4)


def _adds_up(figure: Mapping, names: Iterable[str], known: Mapping, finely: int) -> bool:
    own = figure["id"]
    seen = dict(known)
    for name in names:
        if isinstance(seen.get(name), float):
            seen[name] = printed(name, seen[name], finely)
    value = value_of(figure["tree"], seen)
    if not isinstance(value, float) or own not in known:
        return value == known.get(own)
    return printed(own, value, finely) == printed(own, known[own], finely)


def _offer(offers: Iterable[Mapping | None], known: Mapping) -> dict | None:
    """The first way out that is open: its own question holds, or it has none."""
    for offer in offers:
        if offer and ("tree" not in offer or value_of(offer["tree"], known)):
            value = typed_value(offer["value"], known)
            if value is not None:
                return {"field": offer["field"], "value": value}
    return None


def flag_of(check: Mapping, known: Mapping) -> Flag | None:
    """The flag that a check raises, or None; without one of the quantities it needs it keeps quiet."""
    if "by" in check or not all(name in known for name in check["needs"]):
        return None
    if check["tree"] is not None and not value_of(check["tree"], known):
        return None
    cases = [case for case in check["cases"] if value_of(case["tree"], known)]
    if check["tree"] is None and not cases:
        return None
    fields = [field for part in (check, *cases) for field in part["fields"]]
    sentences = [part["says"] for part in (check, *cases)]
    do = next((case["do"] for case in cases if "do" in case), check["do"])
    return Flag(
        id=check["id"],
        level=min((part["level"] for part in (check, *cases) if "level" in part), key=LEVELS.index),
        fields=tuple(dict.fromkeys(fields)),
        at=next((case["at"] for case in cases if "at" in case), check["at"]),
        says=" ".join(filled(sentence, known) for sentence in sentences),
        do=filled(do, known),
        offer=_offer([*(case.get("offer") for case in cases), check["offer"]], known),
        told={"says": [kept(sentence, known) for sentence in sentences], "do": [kept(do, known)]},
    )


def flags_of(checks: Iterable[Mapping], known: Mapping) -> list[Flag]:
    """The flags that the checks raise, in the checks' order."""
    return [flag for check in checks if (flag := flag_of(check, known))]
