"""What a result says, kept so that it can be said again in any language: sentences of the book, and their values.

A result's own sentences are English, the same for everybody. Beside them, under ``told``, it keeps of each the book's
sentence and what was filled in, as JSON values:

    {"says": "By the tape {length_taken_mm}.", "with": {"length_taken_mm": 401.0}, "finely": 1}

``finely``, how many decimals more than usual, is left out where it is 0.
"""

from collections.abc import Iterable, Mapping

from orders.reckoning.language import said
from orders.rulebook.readings import Listed, listed
from orders.rulebook.sentences import FOLLOWS_FROM, filled, follows_as_sentence, names_in_sentence

__all__ = ["derivation_in_words", "flags_in_words", "in_words", "kept"]


def kept(sentence: str, known: Mapping[str, object], finely: int = 0) -> dict:
    """One sentence of the book with the values it fills in."""
    names = names_in_sentence(sentence)
    values = {name: _kept_value(known[name]) for name in sorted(names & known.keys()) if name != "follows"}
    if "follows" in names:
        values |= {name: known[name] for name in FOLLOWS_FROM if name in known}
    return {"says": sentence, "with": values} | ({"finely": finely} if finely else {})


def _kept_value(value: object) -> object:
    return list(value.parts) if isinstance(value, Listed) else value


def in_words(sentences: Iterable[Mapping]) -> str:
    """Kept sentences in the reader's language, one after the other."""
    return " ".join(_in_words(one) for one in sentences)


def _in_words(one: Mapping) -> str:
    values = {
        name: listed(value) if isinstance(value, list) else value for name, value in one["with"].items()
    }
    if "{follows}" in one["says"]:
        values["follows"] = follows_as_sentence(values)
    return filled(said(one["says"]), values, finely=one.get("finely", 0))


def flags_in_words(result: Mapping) -> list[str]:
    """What each flag of a result says, in the reader's language; English where the result has kept no more than that."""
    told = result.get("told", {}).get("flags") or [None] * len(result["flags"])
    return [
        in_words(one["says"]) if one else flag["says"]
        for flag, one in zip(result["flags"], told, strict=True)
    ]


def derivation_in_words(result: Mapping, name: str) -> str:
    """How a figure of a result came about, in the reader's language; empty where it isn't explained."""
    told = result.get("told", {}).get("derivations", {}).get(name)
    return in_words([told]) if told else result["derivations"].get(name, "")
