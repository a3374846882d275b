"""What was chosen in the workshop's catalogue, as quantities. Twin: static/js/book/options.js."""

from collections.abc import Mapping, Sequence

from orders.reckoning.catalogue import OPTION_LISTS, option_of
from orders.rulebook.readings import at_path

# What an option of each kind gives.
_NUMBERS = {"wall": ("wall_mm",), "rear": ("reach", "open_share"), "top": ("relief_mm",)}


def _furthest(options: Sequence[Mapping], number: str, *, least: bool = False) -> Mapping:
    """The first of the options whose number is the least or the most."""
    best = (min if least else max)(option[number] for option in options)
    return next(option for option in options if option[number] == best)


def limits(catalogue: Mapping, places: Mapping[str, str]) -> dict[str, float]:
    """The catalogue's own numbers, by the names that givens.toml lists."""
    return {name: float(at_path(catalogue, place)) for name, place in places.items()}


def chosen(shell: Mapping, catalogue: Mapping) -> dict[str, float | str | bool]:
    """What was chosen, and the furthest that the catalogue offers of it. Lengths in mm."""
    known: dict[str, float | str | bool] = {}
    for kind in OPTION_LISTS:
        if shell.get(kind) is None:
            continue
        option = option_of(catalogue, kind, shell[kind])
        known[f"{kind}_made"] = option is not None
        for number in _NUMBERS.get(kind, ()) if option else ():
            known[number] = float(option[number])
    shortest = _furthest(catalogue["rears"], "reach", least=True)
    deepest = _furthest(catalogue["tops"], "relief_mm")
    return known | {
        "thickest_wall_mm": float(_furthest(catalogue["walls"], "wall_mm")["wall_mm"]),
        "shortest_rear": shortest["key"],
        "shortest_reach": float(shortest["reach"]),
        "deepest_top": deepest["key"],
        "deepest_relief_mm": float(deepest["relief_mm"]),
    }
