"""What was chosen in the workshop's catalogue, as quantities. Twin: static/js/book/options.js."""

from collections.abc import Mapping, Sequence

from orders.rulebook.readings import at_path

# Field of the entry's shell, list of the catalogue.
_LISTS = {"wall": "walls", "rear": "rears", "top": "tops", "colour": "colours", "finish": "finishes"}
# What an option of each kind gives.
_NUMBERS = {"wall": ("wall_mm",), "rear": ("reach", "open_share"), "top": ("relief_mm",)}


def option_of(catalogue: Mapping, kind: str, key: str | None) -> Mapping | None:
    """The catalogue's option of a kind (wall, rear, top, colour, finish) by its key, or None."""
    return next((option for option in catalogue[_LISTS[kind]] if option["key"] == key), None)


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
    for kind in _LISTS:
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
