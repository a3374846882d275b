"""Every constant and every comparison of a Python module, changed one at a time."""

import ast
from collections.abc import Callable, Iterator
from dataclasses import dataclass

# The neighbour that differs only exactly on the limit, and the opposite.
_EDGE = {ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt}
_OPPOSITE = {
    ast.Lt: ast.GtE,
    ast.LtE: ast.Gt,
    ast.Gt: ast.LtE,
    ast.GtE: ast.Lt,
    ast.Eq: ast.NotEq,
    ast.NotEq: ast.Eq,
    ast.Is: ast.IsNot,
    ast.IsNot: ast.Is,
    ast.In: ast.NotIn,
    ast.NotIn: ast.In,
}
_LONGEST = 90


@dataclass(frozen=True)
class Change:
    """One change: `key` names it whatever line it stands on, `make` makes it."""

    key: str
    make: Callable[[], None]


def changes_of(tree: ast.Module) -> list[Change]:
    """The changes of a parsed module; to `make` one changes this very tree."""
    found: list[Change] = []
    seen: dict[str, int] = {}
    for where, node, parent in _walked(tree, "", tree):
        for name, make in _changes(node):
            key = f"{where}: {_short(parent if isinstance(node, ast.Constant) else node)}: {name}"
            seen[key] = seen.get(key, 0) + 1
            found.append(Change(key if seen[key] == 1 else f"{key} ({seen[key]})", make))
    return found


def _walked(node: ast.AST, where: str, parent: ast.AST) -> Iterator[tuple[str, ast.AST, ast.AST]]:
    """Each node with the function or class it stands in and the node around it.

    What computes nothing is left out: annotations, whether zip is strict and a class frozen.
    """
    yield where or "module", node, parent
    if isinstance(node, (ast.FunctionDef, ast.ClassDef)):
        where = f"{where}.{node.name}".lstrip(".")
    for field, value in ast.iter_fields(node):
        if field in ("annotation", "returns") or (
            isinstance(node, ast.keyword) and node.arg in ("strict", "frozen")
        ):
            continue
        for part in value if isinstance(value, list) else [value]:
            if isinstance(part, ast.AST):
                yield from _walked(part, where, node)


def _changes(node: ast.AST) -> Iterator[tuple[str, Callable[[], None]]]:
    if isinstance(node, ast.Constant) and isinstance(node.value, (bool, int, float)):
        other = changed_constant(node.value)
        yield f"{node.value} becomes {other}", lambda: setattr(node, "value", other)
    if isinstance(node, ast.Compare):
        for place, sign in enumerate(node.ops):
            for table in (_EDGE, _OPPOSITE):
                if other_sign := table.get(type(sign)):
                    name = f"{type(sign).__name__} becomes {other_sign.__name__}"
                    yield name, lambda place=place, new=other_sign: node.ops.__setitem__(place, new())


def changed_constant(value: bool | int | float) -> bool | int | float:
    """Another value close by: the opposite, one more, or a hundredth more."""
    if isinstance(value, bool):
        return not value
    if isinstance(value, int):
        return value + 1
    return value * 1.01 if value else 0.01


def _short(node: ast.AST) -> str:
    text = ast.unparse(node).splitlines()[0]
    return text if len(text) <= _LONGEST else text[: _LONGEST - 1] + "…"
