"""Strict reading of JSON values, each shape also written as JSON Schema, so that the two can't drift apart.

A shape reads one value and refuses what doesn't fit with the value's dotted path and words for a person.
Used by entry.py and catalogue.py.
"""

import json
import math
import re
from collections.abc import Mapping
from dataclasses import dataclass, field

from orders.reckoning.language import said
from orders.reckoning.names import has_unseen

# Control characters (a database refuses the first of them) and halves of a character.
_UNWRITABLE = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\ud800-\udfff]")


class EntryError(ValueError):
    """A value that can't be read.

    Attributes
    ----------
    field : str
        Dotted path of the value, such as ``knee.named`` or ``length.1``; empty for the whole.
    says : str
        What is wrong, in one line.
    """

    def __init__(self, field: str, says: str):
        super().__init__(f"{field}: {says}" if field else says)
        self.field, self.says = field, says


class Doubled(dict):
    """A JSON object that had one key twice; `key` is that key."""

    key = ""


def _pairs(pairs: list[tuple[str, object]]) -> dict:
    read: dict = {}
    for key, value in pairs:
        if key in read:
            read = Doubled(read)
            read.key = key
        read[key] = value
    return read


def _no_constant(name: str):
    raise EntryError("", said("{name} is no number that JSON knows.", name=name))


def read_json(text: str):
    """JSON text as Python values; a key given twice is remembered for `Group` to refuse with its path.

    Raises
    ------
    EntryError
        For text that isn't JSON: NaN and Infinity, enormous numbers, enormous nesting.
    """
    try:
        return json.loads(text, object_pairs_hook=_pairs, parse_constant=_no_constant)
    except RecursionError:
        raise EntryError("", said("nested too deeply to be read.")) from None
    except json.JSONDecodeError as error:
        says = said("not JSON at line {lineno}, character {colno}.", lineno=error.lineno, colno=error.colno)
        raise EntryError("", says) from None
    except EntryError:
        raise
    except ValueError:
        raise EntryError("", said("holds a number too long to be read.")) from None


def _at(path: str, key: object) -> str:
    return f"{path}.{key}" if path else str(key)


def _called(value: object) -> str:
    """What a JSON value is, in plain words, for a message."""
    if value is None:
        return said("nothing")
    if isinstance(value, bool):
        return said("true or false")
    if isinstance(value, str):
        return said("a text")
    if isinstance(value, (int, float)):
        return said("a number")
    return said("a list") if isinstance(value, list) else said("a group of fields")


@dataclass(frozen=True)
class Text:
    """A text of `least` to `most` characters, without control characters or halves of a character."""

    most: int
    least: int = 0

    def read(self, value, path: str) -> str:
        if not isinstance(value, str):
            raise EntryError(path, said("should be a text, not {found}.", found=_called(value)))
        if len(value) > self.most:
            raise EntryError(
                path, said("has {count} characters; {most} is the most.", count=len(value), most=self.most)
            )
        if len(value.strip()) < self.least:
            raise EntryError(path, said("is empty."))
        if _UNWRITABLE.search(value):
            raise EntryError(path, said("holds a character that can't be written."))
        return value

    def schema(self) -> dict:
        least = {"pattern": r"\S"} if self.least else {}
        return {"type": "string", "maxLength": self.most, **least}


@dataclass(frozen=True)
class Name(Text):
    """A text that stands in a line with others: besides, without line breaks and what turns the reading round."""

    def read(self, value, path: str) -> str:
        text = super().read(value, path)
        if has_unseen(text):
            raise EntryError(path, said("holds a character that can't be written."))
        return text


@dataclass(frozen=True)
class Choice:
    """One of a few words."""

    words: tuple[str, ...]

    def read(self, value, path: str) -> str:
        if not isinstance(value, str):
            raise EntryError(
                path,
                said(
                    "should be one of {words}, not {found}.",
                    words=", ".join(self.words),
                    found=_called(value),
                ),
            )
        if value not in self.words:
            shown = value if len(value) <= 40 else value[:40] + "…"
            raise EntryError(
                path, f"“{shown}” is none of {', '.join(self.words)}.".encode("utf-8", "replace").decode()
            )
        return value

    def schema(self) -> dict:
        return {"enum": list(self.words)}


@dataclass(frozen=True)
class Flag:
    """True or false."""

    def read(self, value, path: str) -> bool:
        if not isinstance(value, bool):
            raise EntryError(path, said("should be true or false, not {found}.", found=_called(value)))
        return value

    def schema(self) -> dict:
        return {"type": "boolean"}


@dataclass(frozen=True)
class Number:
    """A finite number from `least` to `most`."""

    least: float
    most: float

    def read(self, value, path: str) -> float:
        if isinstance(value, bool) or not isinstance(value, (int, float)):
            raise EntryError(path, said("should be a number, not {found}.", found=_called(value)))
        if not (self.least <= value <= self.most) or not math.isfinite(value):
            raise EntryError(
                path,
                said(
                    "lies outside {least} to {most}.",
                    least=format(self.least, "g"),
                    most=format(self.most, "g"),
                ),
            )
        return value

    def schema(self) -> dict:
        return {"type": "number", "minimum": self.least, "maximum": self.most}


@dataclass(frozen=True)
class Either:
    """The first shape for texts, the second for everything else."""

    text: Text
    other: Number

    def read(self, value, path: str):
        return (self.text if isinstance(value, str) else self.other).read(value, path)

    def schema(self) -> dict:
        return {"anyOf": [self.text.schema(), self.other.schema()]}


@dataclass(frozen=True)
class ListOf:
    """A list of `least` to `most` values of one shape."""

    item: object
    least: int
    most: int

    def read(self, value, path: str) -> list:
        if not isinstance(value, list):
            raise EntryError(path, said("should be a list, not {found}.", found=_called(value)))
        if not self.least <= len(value) <= self.most:
            raise EntryError(
                path,
                said(
                    "holds {count}; {least} to {most} are possible.",
                    count=len(value),
                    least=self.least,
                    most=self.most,
                ),
            )
        return [self.item.read(part, _at(path, n)) for n, part in enumerate(value)]

    def schema(self) -> dict:
        return {
            "type": "array",
            "items": self.item.schema(),
            "minItems": self.least,
            "maxItems": self.most,
        }


@dataclass(frozen=True)
class Group:
    """Named fields. Those in `optional` may be null or left out and read as None; in `nullable`, only null."""

    fields: Mapping[str, object]
    optional: frozenset[str] = field(default=frozenset())
    nullable: frozenset[str] = field(default=frozenset())

    def read(self, value, path: str) -> dict:
        if not isinstance(value, dict):
            raise EntryError(path, said("should be a group of fields, not {found}.", found=_called(value)))
        if isinstance(value, Doubled):
            raise EntryError(_at(path, value.key), said("is given twice."))
        for key in value:
            if key not in self.fields:
                raise EntryError(_at(path, _short(key)), said("is no field of this group."))
        return {key: self._one(value, key, shape, _at(path, key)) for key, shape in self.fields.items()}

    def _one(self, value: dict, key: str, shape, path: str):
        if key not in value:
            if key in self.optional:
                return None
            raise EntryError(path, said("is missing."))
        if value[key] is None and (key in self.optional or key in self.nullable):
            return None
        return shape.read(value[key], path)

    def schema(self) -> dict:
        return {
            "type": "object",
            "properties": {key: self._schema_of(key, shape) for key, shape in self.fields.items()},
            "required": [key for key in self.fields if key not in self.optional],
            "additionalProperties": False,
        }

    def _schema_of(self, key: str, shape) -> dict:
        if key in self.optional or key in self.nullable:
            return {"anyOf": [shape.schema(), {"type": "null"}]}
        return shape.schema()


def _short(key: object) -> str:
    """A key as it can stand in one line of a message."""
    text = str(key)[:40].encode("ascii", "backslashreplace").decode()
    return "".join(c if c.isprintable() else "?" for c in text)


@dataclass(frozen=True)
class Answers:
    """Reasons by flag id."""

    most: int
    text: Text

    def read(self, value, path: str) -> dict:
        if not isinstance(value, dict):
            raise EntryError(path, said("should be a group of fields, not {found}.", found=_called(value)))
        if isinstance(value, Doubled):
            raise EntryError(_at(path, _short(value.key)), said("is given twice."))
        if len(value) > self.most:
            raise EntryError(
                path, said("holds {count}; {most} is the most.", count=len(value), most=self.most)
            )
        for key in value:
            if not (0 < len(key) <= 64 and key.isascii() and key.replace(".", "_").isidentifier()):
                raise EntryError(_at(path, _short(key)), said("is no flag's id."))
        return {key: self.text.read(text, _at(path, key)) for key, text in value.items()}

    def schema(self) -> dict:
        return {
            "type": "object",
            "propertyNames": {"pattern": r"^[A-Za-z_][A-Za-z0-9_.]{0,63}$"},
            "additionalProperties": self.text.schema(),
            "maxProperties": self.most,
        }


def named(optional: str = "", nullable: str = "", /, **fields) -> Group:
    """A group, its optional and its nullable fields named in two lists of words."""
    return Group(fields, frozenset(optional.split()), frozenset(nullable.split()))
