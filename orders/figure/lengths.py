"""From a scene to the named lengths that the figure's paths are written in."""

from collections.abc import Mapping
from itertools import pairwise
from typing import Any, NamedTuple

from orders.figure.data import FIGURE

DEFAULTS = FIGURE["defaults"]
SHELL = FIGURE["shell"]


class Station(NamedTuple):
    """One section of the shell: y below the top edge, front line, depth, breadth. [mm]"""

    y: float
    front: float
    depth: float
    breadth: float


def given(value: Any, otherwise: Any) -> Any:
    """The value, or what is drawn where none is given."""
    return otherwise if value is None else value


def between(rows: list[tuple[float, float]], x: float) -> float:
    """Straight-line interpolation in rows of (x, value), rising in x; flat beyond the ends."""
    if x <= rows[0][0]:
        return rows[0][1]
    for (ax, av), (bx, bv) in pairwise(rows):
        if x <= bx:
            return av + (bv - av) * (x - ax) / (bx - ax)
    return rows[-1][1]


def stations_of(scene: Mapping[str, Any], finished: float, girth: float) -> list[Station]:
    """The shell's sections: the scene's own, or the ordinary leg's, scaled to length and girth."""
    rows = scene["shell"].get("stations")
    if rows:
        return [
            Station(row["below_top_mm"], row["front_mm"], row["depth_mm"], row["breadth_mm"]) for row in rows
        ]
    front = list(zip(SHELL["front_share"], SHELL["front_mm"], strict=True))
    breadths, depths = _smoothed(SHELL["breadth"]), _smoothed(SHELL["depth"])
    stations = []
    for t, breadth, depth in zip(SHELL["t"], breadths, depths, strict=True):
        share = (1 - t) / 0.9
        if scene["purpose"] == "guide" and t > 0.82:
            depth = min(depth, SHELL["eased_depth"])
        stations.append(
            Station(share * finished, between(front, share) * girth / 385, depth * girth, breadth * girth)
        )
    return stations


def _smoothed(values: list[float]) -> list[float]:
    """Each value drawn a quarter of the way to either neighbour: the profile is of one leg, bumps and all.

    The widest place keeps its own.
    """
    last = len(values) - 1
    kept = (0, SHELL["t"].index(SHELL["widest_t"]), last)
    return [
        values[i] if i in kept else (values[i - 1] + 2 * values[i] + values[i + 1]) / 4
        for i in range(last + 1)
    ]


def front_at(stations: list[Station], y: float) -> float:
    return between([(s.y, s.front) for s in stations], y)


def rear_at(stations: list[Station], y: float) -> float:
    return between([(s.y, s.front - s.depth) for s in stations], y)


def half_breadth_at(stations: list[Station], y: float, fullest_share: float) -> float:
    """Half the width at y, with the fullest place moved to `fullest_share` of the length. [mm]"""
    rows = [(s.y, s.breadth) for s in stations]
    whole = stations[-1].y
    plain = max(stations, key=lambda s: s.breadth).y / whole
    share = y / whole
    if share <= fullest_share:
        moved = share * plain / fullest_share
    else:
        moved = plain + (share - fullest_share) * (1 - plain) / (1 - fullest_share)
    return between(rows, moved * whole) / 2


def lengths_of(scene: Mapping[str, Any]) -> dict[str, float]:
    """Every named length of the figure, in mm; what isn't given stands at its usual place."""
    length = given(scene["length_mm"], DEFAULTS["length_mm"])
    gap = given(scene["gap_mm"], DEFAULTS["gap_mm"])
    girth = given(scene["girth_mm"], DEFAULTS["girth_mm"])
    finished = given(scene["shell"].get("finished_mm"), length - gap)
    lengths = {"L": length, "gap": gap, "g": girth / 385, "f": finished}
    lengths |= _knee_lengths(scene) | _foot_lengths(scene)
    lengths |= _strap_lengths(scene, finished)
    lengths |= _shell_lengths(scene, lengths, stations_of(scene, finished, girth))
    lengths |= _extra_lengths(scene, lengths)
    return lengths


def _knee_lengths(scene: Mapping[str, Any]) -> dict[str, float]:
    pins = "several" if scene["knee"]["pins"] == "several" else "one"
    hardware = given(scene["knee"].get("hardware_mm"), DEFAULTS["hardware_mm"][pins])
    clamp = min(24.0, 0.3 * hardware)
    bottom = hardware - clamp
    knee = scene["knee"]
    return {
        "hw": hardware,
        "kb": bottom,
        "k": min(1.0, bottom / DEFAULTS["knee_drawn_mm"][pins]),
        "sp": given(knee.get("stop_mm"), DEFAULTS["stop_mm"]),
        "sb": given(knee.get("stop_below_mm"), DEFAULTS["stop_below_mm"]),
        "tb": given(knee.get("thigh_side_mm"), DEFAULTS["thigh_side_mm"]),
        "tw": given(knee.get("thigh_side_width_mm"), DEFAULTS["thigh_side_width_mm"]) / 2,
    }


def _foot_lengths(scene: Mapping[str, Any]) -> dict[str, float]:
    foot = scene["foot"]
    hardware = given(foot.get("hardware_above_rim_mm"), DEFAULTS["hardware_above_rim_mm"])
    if foot["profile"] != "high":
        hardware = given(foot.get("hardware_above_rim_mm"), 0)
    return {
        "har": hardware,
        "hb": hardware - min(24.0, 0.4 * hardware),
        "ax": given(foot.get("axis_above_rim_mm"), DEFAULTS["axis_above_rim_mm"]),
        "col": given(scene.get("collar_mm"), DEFAULTS["collar_mm"]),
    }


def _strap_lengths(scene: Mapping[str, Any], finished: float) -> dict[str, float]:
    shell = scene["shell"]
    return {
        "u": given(shell.get("upper_mm"), DEFAULTS["strap_mm"]),
        "w": finished - given(shell.get("lower_mm"), DEFAULTS["strap_mm"]),
        "sw": given(shell.get("strap_width_mm"), DEFAULTS["strap_width_mm"]) / 2,
    }


def _shell_lengths(
    scene: Mapping[str, Any], lengths: Mapping[str, float], stations: list[Station]
) -> dict[str, float]:
    shell, f = scene["shell"], lengths["f"]
    end = given(shell.get("reach"), DEFAULTS["reach"]) * f
    trim = min(given(shell.get("rear_trim_mm"), DEFAULTS["rear_trim_share"] * f), 0.5 * end)
    widest = max(stations, key=lambda s: s.breadth).y
    outer, slots = SHELL["fullest"]["outer"], SHELL["slot_share"]
    return {
        "q": end,
        "qx": rear_at(stations, end - 16),
        "rt": trim,
        "rx": rear_at(stations, trim),
        "cy": widest,
        "cx": half_breadth_at(stations, widest, outer),
        "ci": half_breadth_at(stations, widest, SHELL["fullest"]["inner"]),
        "cr": rear_at(stations, widest),
        "fx": front_at(stations, 0.34 * f),
        "lx": front_at(stations, 0.72 * f),
        "tx": stations[0].front,
        "bx": stations[-1].front,
        "ux": slots * half_breadth_at(stations, lengths["u"], SHELL["fullest"]["plain"]),
        "wx": slots * half_breadth_at(stations, lengths["w"], SHELL["fullest"]["plain"]),
    }


def _extra_lengths(scene: Mapping[str, Any], lengths: Mapping[str, float]) -> dict[str, float]:
    moving = scene.get("moving") or {}
    low = given(moving.get("from_above_rim_mm"), 0.3 * lengths["L"])
    high = given(moving.get("to_above_rim_mm"), low + 40)
    return {
        "m1": lengths["L"] - high,
        "m2": lengths["L"] - low,
        "sv": given(scene.get("service_mm"), lengths["hw"] + 16),
    }
