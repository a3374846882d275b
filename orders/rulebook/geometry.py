"""What isn't scalar, as quantities: outline, clearances, rear trim, mass. Twin: static/js/book/geometry.js.

The twin leaves mass and inertia out: they are the server's only.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from orders.reckoning.catalogue import option_of
from orders.reckoning.constants import GIRTH_PROFILE
from orders.reckoning.errors import OutOfRange
from orders.reckoning.mass import Mass, shell_mass
from orders.reckoning.mechanism import TRANSLATING, Motion, Pivots, motion
from orders.reckoning.outline import (
    Station,
    hardware_clearance_mm,
    house_profile,
    inside_breadth_mm,
    stations,
    stop_clearance_mm,
)
from orders.reckoning.result import rounded
from orders.reckoning.trim import rear_trim_mm
from orders.rulebook.functions import less, more
from orders.rulebook.readings import Read


@dataclass
class Worked:
    """What the geometry gives: quantities for the checks; stations, clearances and motion for the result. [mm]"""

    known: dict[str, float | str | bool] = field(default_factory=dict)
    stations: list[dict] = field(default_factory=list)
    clearances: dict[str, float | None] = field(default_factory=dict)
    mechanism: list[dict] = field(default_factory=list)


def worked(known: Mapping, read: Read, catalogue: Mapping, shell: Mapping) -> Worked:
    """Works out what the known scalars allow; what they don't stays unknown.

    Parameters
    ----------
    known : mapping
        Givens and the figures of the first stage.
    read : Read
        For the extra girths and the service points.
    catalogue, shell : mapping
        The catalogue, and what the entry chose in it.
    """
    outline = _unless_out_of_range(_outline, known, read, catalogue.get("profile")) or []
    moved, found = _motion(known)
    if outline:
        found |= _clearances(known, outline) | _mass(known, outline, catalogue, shell)
        found["rear_trim_start_mm"] = _rear_trim(known, outline)
        found["rear_left"] = _rear_left(known, found["rear_trim_start_mm"])
        found["inside_breadth_at_top_mm"] = _measured(
            inside_breadth_mm, known, ("wall_mm",), lambda wall: (outline, wall, 0.0)
        )
        if "wall_mm" in known:
            found["inside_front_at_top_mm"] = outline[0].front_mm - known["wall_mm"]
        found |= _service(known | found, read)
    return Worked(
        {name: value for name, value in found.items() if value is not None},
        [{name: rounded(value) for name, value in vars(station).items()} for station in outline],
        {f"{name}_mm": _rounded(found.get(f"{name}_clearance_mm")) for name in ("knee", "foot", "stop")},
        _way(moved) if moved else [],
    )


def _rounded(value: float | None) -> float | None:
    return None if value is None else rounded(value)


def _unless_out_of_range(function: Callable, *arguments):
    """The function's value; None where a measure lies outside what it holds for."""
    try:
        return function(*arguments)
    except OutOfRange:
        return None


def _measured(function: Callable, known: Mapping, names: tuple[str, ...], arguments: Callable):
    """The function's value once all the names are known; else None."""
    values = [known.get(name) for name in names]
    if any(value is None for value in values):
        return None
    return _unless_out_of_range(function, *arguments(*values))


def _outline(known: Mapping, read: Read, house: Mapping | None) -> list[Station]:
    if not all(name in known for name in ("finished_length_mm", "girth_mm")):
        return []
    apex = known.get("apex_to_floor_mm")
    extra = [] if apex is None else [(apex - place, girth) for place, girth in read.extra_girths]
    profile = house_profile(house["girth_shares"], house["depth_over_breadth"]) if house else GIRTH_PROFILE
    return stations(
        known["finished_length_mm"], known["girth_mm"], extra, known.get("behind_front_at_apex_mm"), profile
    )


def _clearances(known: Mapping, outline: list[Station]) -> dict[str, float | None]:
    """Least room round the knee, round the foot's mechanism, and before an extension stop. [mm]"""
    end = outline[-1].below_top_mm
    leans = known.get("lean_forward_deg", 0.0), known.get("lean_outward_deg", 0.0)

    def round_knee(wall, width, depth, reach):
        return outline, wall, width, depth, 0.0, min(reach, end), *leans

    def round_foot(wall, width, depth, above_rim, gap):
        return outline, wall, width, depth, max(0.0, end + gap - above_rim), end, *leans

    def before_stop(wall, below_apex, projection):
        return outline, wall, below_apex, projection

    knee = ("wall_mm", "knee_width_mm", "knee_depth_mm", "hardware_length_mm")
    foot = ("wall_mm", "foot_width_mm", "foot_depth_mm", "hardware_above_rim_mm", "gap_mm")
    stop = ("wall_mm", "stop_below_apex_mm", "stop_projection_mm")
    reaches_in = more(known.get("hardware_above_rim_mm", 0.0), known.get("gap_mm", 0.0))
    return {
        "knee_clearance_mm": _measured(hardware_clearance_mm, known, knee, round_knee),
        "foot_clearance_mm": _measured(hardware_clearance_mm, known, foot, round_foot)
        if reaches_in
        else None,
        "stop_clearance_mm": _measured(stop_clearance_mm, known, stop, before_stop),
    }


def _motion(known: Mapping) -> tuple[Motion | None, dict]:
    """How a knee whose four pivots are entered bends, and what the checks ask of it."""
    places = [[known.get(f"{name}_{way}_mm") for way in ("forward", "below_apex")] for name in Pivots._fields]
    asked = known.get("flexion_used_deg")
    if asked is None or any(place is None for pair in places for place in pair):
        return None, {"pivots_move": False}
    moved = _unless_out_of_range(motion, Pivots(*((forward, -below) for forward, below in places)), asked)
    found = {"pivots_bend_deg": moved.bends_deg if moved else 0.0}
    if not moved:
        return None, found | {"pivots_move": False}
    found |= {"pivot_most_forward_mm": moved.most_forward_mm, "pivots_below_apex_mm": -moved.lowest_mm}
    for when, centre in (("straight", moved.centres[0]), ("bent", moved.centres[-1])):
        if centre != TRANSLATING:
            found |= {f"centre_{when}_forward_mm": centre[0], f"centre_{when}_above_apex_mm": centre[1]}
    return moved, found | {"pivots_move": True, "bent_has_centre": moved.centres[-1] != TRANSLATING}


# Every so many steps of its motion a knee is told in the result: 10 degrees, and the end.
_TOLD_EVERY = 10


def _way(moved: Motion) -> list[dict]:
    """Where front pivot and centre lie on the way. [deg, mm] No centre where the side links are parallel."""
    last = len(moved.angles_deg) - 1
    return [
        {
            "flexion_deg": rounded(moved.angles_deg[at]),
            "front_pivot": _place(moved.pivots[at].front_upper),
            "centre": None if moved.centres[at] == TRANSLATING else _place(moved.centres[at]),
        }
        for at in range(last + 1)
        if at % _TOLD_EVERY == 0 or at == last
    ]


def _place(point: tuple[float, float]) -> dict[str, float]:
    return {"forward_mm": rounded(point[0]), "below_apex_mm": rounded(-point[1])}


def _rear_trim(known: Mapping, outline: list[Station]) -> float | None:
    """Where the rear edge starts, below the top. [mm] Not measured: the usual place."""
    if not known.get("thigh_behind_axis_given"):
        return known["rear_trim_usual_mm"]
    names = ("thigh_behind_axis_mm", "flexion_used_deg", "knee_axis_used_mm")
    return _measured(rear_trim_mm, known, names, lambda *values: (outline, *values))


def _rear_left(known: Mapping, starts_mm: float | None) -> bool | None:
    """Whether anything of the rear is left between its trim and its end; None where that can't be known yet."""
    names = ("reach", "finished_length_mm", "flexion_used_deg", "knee_axis_used_mm")
    asked = ("thigh_behind_axis_mm",) if known.get("thigh_behind_axis_given") else ()
    if any(name not in known for name in (*names, *asked)):
        return None
    return starts_mm is not None and less(starts_mm, known["reach"] * known["finished_length_mm"])


def _mass(known: Mapping, outline: list[Station], catalogue: Mapping, shell: Mapping) -> dict:
    wall = option_of(catalogue, "wall", shell["wall"])
    names = ("open_share", "upper_strap_mm", "lower_strap_mm", "knee_axis_used_mm")
    if wall is None or not all(name in known for name in names):
        return {}
    thickest = max(catalogue["walls"], key=lambda option: option["wall_mm"])
    made = _unless_out_of_range(_mass_with, wall, known, outline, catalogue)
    heaviest = made
    if thickest["wall_mm"] > wall["wall_mm"]:
        heaviest = _unless_out_of_range(_mass_with, thickest, known, outline, catalogue)
    return {
        "shell_mass_g": made and made.mass_g,
        "closed_mass_g": made and made.closed_mass_g,
        "shell_inertia_kg_m2": made and made.inertia_kg_m2,
        "thickest_adds_g": made and heaviest and heaviest.mass_g - made.mass_g,
    }


def _mass_with(wall: Mapping, known: Mapping, outline: list[Station], catalogue: Mapping) -> Mass:
    places = known["upper_strap_mm"], outline[-1].below_top_mm - known["lower_strap_mm"]
    return shell_mass(
        outline,
        wall["wall_mm"],
        wall["density_kg_m3"],
        known["open_share"],
        catalogue["strap"]["mass_g"],
        places,
        known["knee_axis_used_mm"],
    )


def _service(known: Mapping, read: Read) -> dict:
    """Whether the shell lies over something that stays open, and over what."""
    covered = [
        point["what"] for point in read.service_points if point["stays_open"] and _is_covered(point, known)
    ]
    return {"service_covered": bool(covered), "service_covered_what": ", ".join(covered)}


def _is_covered(point: Mapping, known: Mapping) -> bool:
    """On the front below the relief, on the rear from its trim to its end, at the sides all the way."""
    place, length = point["below_apex_mm"], known["finished_length_mm"]
    starts, ends = {
        "front": (known.get("relief_mm", 0.0), length),
        "rear": (known.get("rear_trim_start_mm") or 0.0, length * known.get("reach", 1.0)),
    }.get(point["side"], (0.0, length))
    return place is not None and more(place, starts) and less(place, ends)
