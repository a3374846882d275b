"""The rule book: the formulas and checks in the TOML files of this folder, loaded, validated and hashed.

Loading refuses an unknown quantity, a field the sheet doesn't have, a missing sentence or source, a place
that isn't on the figure and an expression outside the notation, so that no rule can fall silent.
"""

import hashlib
import json
import tomllib
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path

from orders.reckoning.language import said
from orders.rulebook.beside import names_of_check
from orders.rulebook.entries import read_check, read_figure
from orders.rulebook.expression import names_in
from orders.rulebook.flag import LEVELS
from orders.rulebook.givens import BookError, types_of_givens
from orders.rulebook.sentences import unit_of

FOLDER = Path(__file__).parent
# Found by code, not by a formula: what follows from the readings, in words.
_WORDS = {"follows": "text"}


@dataclass(frozen=True, eq=False)
class Book:
    """A loaded rule book.

    Attributes
    ----------
    version : int
        Raised with every change.
    sha256 : str
        Hash of the whole content, sources included.
    givens : dict
        What the formulas start from, as givens.toml has it.
    figures, checks : tuple of dict
        Each with its trees; figures in an order in which each comes after what it needs.
    types : dict
        Type of every quantity, by name.
    on_server : frozenset of str
        Quantities that only the server works out.
    """

    version: int
    sha256: str
    givens: dict
    figures: tuple[dict, ...]
    checks: tuple[dict, ...]
    types: dict = field(repr=False)
    on_server: frozenset[str] = frozenset()

    def to_json(self, look_up: Callable[[str], str] = str) -> dict:
        """What the phone gets: givens, figures and checks with their trees and sentences, each of them looked up."""
        return {
            "schema": "shankline-book-1",
            "version": self.version,
            "sha256": self.sha256,
            "givens": {
                "entry": self.givens["entry"],
                "catalogue": self.givens["catalogue"],
                "beside": {name: given["type"] for name, given in self.givens["beside"].items()},
            },
            "figures": [_looked_up(figure, look_up) for figure in self.figures],
            "checks": [_looked_up(check, look_up) for check in self.checks],
        }


def _looked_up(entry: Mapping, look_up: Callable[[str], str]) -> dict:
    """An entry, or a case of it, with its sentences looked up."""
    found = dict(entry)
    for key in ("says", "do"):
        if key in found:
            found[key] = look_up(found[key])
    if "cases" in found:
        found["cases"] = [_looked_up(case, look_up) for case in found["cases"]]
    return found


def _figure_types(figures: Iterable[Mapping], types: dict[str, str]) -> dict[str, str]:
    """The givens' types and the figures': a figure's unit says its type, and its name says its unit."""
    types = types | _WORDS
    for figure in figures:
        name, unit = figure.get("id"), figure.get("unit")
        if not isinstance(name, str) or unit is None:
            raise BookError(str(name), "a figure needs an id and a unit.")
        if name in types:
            raise BookError(name, "is defined twice.")
        if unit not in ("flag", "text") and unit.replace("deg", "°") != unit_of(name)[0].replace(
            "\u00a0", " "
        ):
            raise BookError(name, f"its name doesn't end in its unit, “{unit}”.")
        types[name] = unit if unit in ("flag", "text") else "number"
    return types


def _names_of(figure: Mapping) -> set[str]:
    return set(figure["needs"]) | names_in(figure["tree"])


def _ordered(figures: list[dict], geometry: frozenset[str]) -> tuple[dict, ...]:
    """Each figure after what it needs, with its stage: 2 if it waits for the geometry, else 1.

    Raises
    ------
    BookError
        If figures need one another in a ring.
    """
    waiting = {figure["id"]: figure for figure in figures}
    ordered: list[dict] = []
    late = set(geometry)
    while waiting:
        ready = [figure for figure in waiting.values() if not _names_of(figure) & waiting.keys()]
        if not ready:
            raise BookError(next(iter(waiting)), "is needed, in a ring, by what it needs itself.")
        for figure in ready:
            del waiting[figure["id"]]
            stage = 2 if _names_of(figure) & late else 1
            late |= {figure["id"]} if stage == 2 else set()
            ordered.append(figure | {"stage": stage})
    return tuple(sorted(ordered, key=lambda figure: figure["stage"]))


def _refuse_doubled(checks: Iterable[Mapping]) -> None:
    seen: set[str] = set()
    for check in checks:
        if check["id"] in seen:
            raise BookError(check["id"], "stands there twice; an id is never reused.")
        seen.add(check["id"])


def refuse_unheard(check: Mapping, book: Book) -> None:
    """Refuses a check that could bounce an order after the visit, since the phone couldn't have told it.

    A stop rests on the entry and the catalogue alone; an explain may also rest on what stands beside them, which
    intake lets pass; only a note may rest on what the server alone works out.

    Raises
    ------
    BookError
        With the check's id.
    """
    levels = [check["level"], *(case.get("level", "note") for case in check.get("cases", []))]
    strictest = min(levels, key=LEVELS.index)
    names = names_of_check(check)
    late = sorted(names & book.on_server)
    if late and strictest != "note":
        raise BookError(
            check["id"],
            said("rests on {name}, which no phone knows: it can only be a note.", name=late[0]),
            "level",
        )
    beside = sorted(names & book.givens["beside"].keys())
    if beside and strictest == "stop":
        raise BookError(
            check["id"],
            said("rests on {name}, which not every phone knows: it can't be a stop.", name=beside[0]),
            "level",
        )


def _on_server(figures: Iterable[Mapping], givens: Mapping) -> frozenset[str]:
    """What only the server works out: what givens.toml says, and the figures that rest on it."""
    names = set(givens["server"])
    for figure in figures:
        if _names_of(figure) & names:
            names.add(figure["id"])
    return frozenset(names)


def read_book(content: Mapping[str, Mapping], version: int) -> Book:
    """A rule book from its files' content.

    Parameters
    ----------
    content : mapping
        Parsed TOML by file name without its ending; ``givens`` is one of them.
    version : int

    Raises
    ------
    BookError
        With the id of the entry that can't be used.
    """
    givens = dict(content["givens"])
    parts = [part for name, part in content.items() if name != "givens"]
    raw_figures = [figure for part in parts for figure in part.get("figure", [])]
    types = _figure_types(raw_figures, types_of_givens(givens))
    figures = [read_figure(figure, types) for figure in raw_figures]
    checks = [read_check(check, types) for part in parts for check in part.get("check", [])]
    _refuse_doubled(checks)
    whole = json.dumps([version, content], sort_keys=True, ensure_ascii=False, separators=(",", ":"))
    ordered = _ordered(figures, frozenset([*givens["geometry"], *givens["server"]]))
    book = Book(
        version=version,
        sha256=hashlib.sha256(whole.encode()).hexdigest(),
        givens=givens,
        figures=ordered,
        checks=tuple(checks),
        types=types,
        on_server=_on_server(ordered, givens),
    )
    for check in checks:
        refuse_unheard(check, book)
    return book


def book_content(folder: Path = FOLDER) -> tuple[dict[str, dict], int]:
    """The content of a book's files, and its version."""
    index = tomllib.loads((folder / "book.toml").read_text(encoding="utf-8"))
    content = {
        name: tomllib.loads((folder / f"{name}.toml").read_text(encoding="utf-8")) for name in index["files"]
    }
    return content, index["version"]


@cache
def load_book() -> Book:
    """The rule book that comes with the program, loaded once."""
    return read_book(*book_content())
