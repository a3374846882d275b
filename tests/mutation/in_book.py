"""Every constant and every comparison of the rule book's expressions, changed one at a time."""

from collections.abc import Callable, Iterator, Mapping
from typing import Any

from orders.rulebook.book import load_book
from tests.mutation.in_code import Change

_OPPOSITE = {"less": "more", "more": "less", "==": "!=", "!=": "=="}
# On the limit itself less(a, b) and !more(a, b) differ, and nowhere else.
_EDGE = {"less": "more", "more": "less"}
_NO_WORD = "no such word"
# A limit of these is changed by one: they are whole, so that less makes no difference.
_WHOLE = ("_count", "_days")


def changes_of(ids: set[str]) -> list[Change]:
    """The changes of the loaded book's figures and checks with these ids; to `make` one changes the loaded book."""
    found: list[Change] = []
    seen: dict[str, int] = {}
    for key, make in (change for place, holder in _trees(ids) for change in _changes(place, holder)):
        seen[key] = seen.get(key, 0) + 1
        found.append(Change(key if seen[key] == 1 else f"{key} ({seen[key]})", make))
    return found


def _trees(ids: set[str]) -> Iterator[tuple[str, Any]]:
    """Where each expression stands, and the mapping that holds it under "tree"."""
    book = load_book()
    for entry in (*book.figures, *book.checks):
        if entry["id"] not in ids or "by" in entry:
            continue
        yield entry["id"], entry
        parts = [("offer", entry.get("offer"))]
        for n, case in enumerate(entry["cases"]):
            parts += [(f"case {n}", case), (f"case {n} offer", case.get("offer"))]
        for name, part in parts:
            if part and part.get("tree") is not None:
                yield f"{entry['id']} {name}", part


def changes_of_givens() -> list[Change]:
    """The changes of the numbers in givens.toml: the least, the most and the default of what an entry gives."""
    return [
        Change(
            f"{name}: {key} {given[key]:g} becomes {other:g}",
            lambda given=given, key=key, other=other: given.__setitem__(key, other),
        )
        for name, given in load_book().givens["entry"].items()
        for key in ("least", "most", "default")
        if isinstance(given.get(key), float)
        for other in ((given[key] * 1.01, given[key] * 0.99) if given[key] else (0.01, -0.01))
    ]


def _changes(place: str, holder: Any) -> Iterator[tuple[str, Callable[[], None]]]:
    yield from _of(place, holder["tree"], lambda tree: holder.__setitem__("tree", tree))


def _of(place: str, tree: Any, put: Callable[[Any], None]) -> Iterator[tuple[str, Callable[[], None]]]:
    """The changes within a tree; `put` puts another in its place."""
    for name, other in _others(tree):
        yield f"{place}: {name}", lambda other=other: put(other)
    if isinstance(tree, list):
        step = 1.0 if any(isinstance(part, str) and part.endswith(_WHOLE) for part in tree[1:]) else None
        for n, part in enumerate(tree[1:], 1):
            if step and isinstance(part, float):
                for other in (part + step, part - step):
                    name = f"{written(tree)}: {part:g} becomes {other:g}"
                    yield f"{place}: {name}", lambda other=other, n=n, tree=tree: tree.__setitem__(n, other)
            elif tree[0] == "in" and n == 2:
                for at, word in enumerate(part):
                    yield f"{place}: {written(tree)}: without “{word}”", lambda at=at, part=part: part.pop(at)
            else:
                yield from _of(place, part, lambda other, n=n, tree=tree: tree.__setitem__(n, other))


def _others(tree: Any) -> Iterator[tuple[str, Any]]:
    if isinstance(tree, bool):
        yield f"{tree} becomes {not tree}", not tree
    elif isinstance(tree, float):
        for other in (tree * 1.01, tree * 0.99) if tree else (0.01, -0.01):
            yield f"{tree:g} becomes {other:g}", other
    elif isinstance(tree, Mapping):
        yield f"“{tree['text']}” becomes another word", {"text": _NO_WORD}
    elif isinstance(tree, list) and tree[0] in _OPPOSITE:
        yield f"{written(tree)}: {tree[0]} becomes {_OPPOSITE[tree[0]]}", [_OPPOSITE[tree[0]], *tree[1:]]
        if tree[0] in _EDGE:
            yield f"{written(tree)}: on the limit too", ["!", [_EDGE[tree[0]], *tree[1:]]]


def written(tree: Any) -> str:
    """A tree as one would write it, near enough to find it again."""
    if isinstance(tree, Mapping):
        return f"'{tree['text']}'"
    if not isinstance(tree, list):
        return f"{tree:g}" if isinstance(tree, float) else str(tree)
    if tree[0] == "in":
        return f"{written(tree[1])} in {tree[2]}"
    parts = [written(part) for part in tree[1:]]
    if tree[0] in ("+", "-", "*", "/", "==", "!=", "&&", "||") and len(parts) == 2:
        return f"{parts[0]} {tree[0]} {parts[1]}"
    return f"{tree[0]}({', '.join(parts)})"
