"""The language that sentences are made in.

Every sentence stands in English where it is made and is looked up there. Without a look-up it stays English; the site
puts its own here, which knows who reads.
"""

import re
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar

__all__ = ["fill", "in_english", "look_up_with", "noop", "said", "with_mark"]

_NAME = re.compile(r"\{(\w+)\}")


def _as_it_is(sentence: str) -> str:
    return sentence


def _point() -> str:
    return "."


_look_up: Callable[[str], str] = _as_it_is
_mark: Callable[[], str] = _point
_stays_english: ContextVar[bool] = ContextVar("stays_english", default=False)


def look_up_with(look_up: Callable[[str], str], mark: Callable[[], str]) -> None:
    """From now on every sentence is looked up so, by its English one, and decimals begin after `mark()`."""
    global _look_up, _mark
    _look_up, _mark = look_up, mark


@contextmanager
def in_english() -> Iterator[None]:
    """Whatever is said within stays English, whoever reads: what is kept is the same for everybody."""
    token = _stays_english.set(True)
    try:
        yield
    finally:
        _stays_english.reset(token)


def said(sentence: str, /, **values: object) -> str:
    """A sentence in the reader's language, with its `{names}` filled in."""
    text = sentence if _stays_english.get() else _look_up(sentence)
    return fill(text, values) if values else text


def with_mark(number: str) -> str:
    """A number's digits as the reader's language writes them: "19.05" is "19,05" in German."""
    return number if _stays_english.get() else number.replace(".", _mark())


def fill(sentence: str, values: Mapping[str, object]) -> str:
    """A sentence with its names filled in, once and never again in what was filled in."""
    return _NAME.sub(lambda name: str(values[name[1]]), sentence)


def noop(sentence: str) -> str:
    """Marks a sentence for the translators; it is looked up where it is shown."""
    return sentence
