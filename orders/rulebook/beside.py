"""What stands beside the entry: quantities that come from photos and from earlier orders.

They are handed to `orders.reckon.reckon` as one flat mapping, names as in the table ``beside`` of givens.toml:

    {"photo_front": True, "photo_side": True, "photo_knee": False, "photo_foot": False,
     "photo_length_mm": 401.0, "photo_length_U_mm": 8.0,
     "earlier_days": 12, "is_remake": False, "last_length_mm": 388.0, "last_girth_mm": 380.0}

What isn't known is left out (or None), and the checks that need it keep quiet. Twin: static/js/book/beside.js.
"""

import math
from collections.abc import Mapping

from orders.rulebook.expression import names_in


class BesideError(ValueError):
    """Something beside the entry that the book doesn't know, or that isn't of its type.

    Attributes
    ----------
    name : str
        Which quantity.
    says : str
        What is wrong with it.
    """

    def __init__(self, name: str, says: str):
        super().__init__(f"beside.{name}: {says}")
        self.name, self.says = name, says


def read_beside(beside: Mapping | None, givens: Mapping[str, Mapping]) -> dict[str, float | str | bool]:
    """The quantities beside an entry, read strictly.

    Parameters
    ----------
    beside : mapping or None
        By name; None means that nothing is known.
    givens : mapping
        The table ``beside`` of givens.toml.

    Raises
    ------
    BesideError
        For a name that isn't in the table, a value of another type, a number that is negative or not finite.
    """
    known = {}
    for name, value in (beside or {}).items():
        if name not in givens:
            raise BesideError(name, "nothing beside an entry is called so.")
        if value is not None:
            known[name] = _of_type(name, value, givens[name]["type"])
    return known


def _of_type(name: str, value, kind: str) -> float | str | bool:
    if kind == "number":
        if isinstance(value, bool) or not isinstance(value, (int, float)):
            raise BesideError(name, "should be a number.")
        if not 0 <= value < math.inf:
            raise BesideError(name, "should be a number from 0 up.")
        return float(value)
    if not isinstance(value, {"flag": bool, "text": str}[kind]):
        raise BesideError(name, f"should be a {kind}.")
    return value


def names_of_check(check: Mapping) -> frozenset[str]:
    """Every quantity that decides whether, and at which level, a check is raised."""
    trees = [check.get("tree"), *(case["tree"] for case in check.get("cases", []))]
    return frozenset(check.get("needs", [])).union(*(names_in(tree) for tree in trees if tree is not None))
