"""The language that sentences are made in.

Every sentence stands in English where it is made and is looked up there. Without a look-up it stays English; the site
puts its own here, which knows who reads.
"""

import re
from collections.abc import Callable, Mapping

__all__ = ["fill", "look_up_with", "noop", "said"]

_NAME = re.compile(r"\{(\w+)\}")


def _in_english(sentence: str) -> str:
    return sentence


_look_up: Callable[[str], str] = _in_english


def look_up_with(look_up: Callable[[str], str]) -> None:
    """From now on every sentence is looked up so, by its English one."""
    global _look_up
    _look_up = look_up


def said(sentence: str, /, **values: object) -> str:
    """A sentence in the reader's language, with its `{names}` filled in."""
    return fill(_look_up(sentence), values) if values else _look_up(sentence)


def fill(sentence: str, values: Mapping[str, object]) -> str:
    """A sentence with its names filled in, once and never again in what was filled in."""
    return _NAME.sub(lambda name: str(values[name[1]]), sentence)


def noop(sentence: str) -> str:
    """Marks a sentence for the translators; it is looked up where it is shown."""
    return sentence
