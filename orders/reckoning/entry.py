"""The entry: what was captured for one shank shell. Strict: what isn't in its key set is refused.

`entry.schema.json` beside this file says the same as JSON Schema; it is written from the shapes below
(``python -m orders.reckoning.entry``), and a test holds the two together.
"""

import json
from collections.abc import Iterator

from orders.reckoning.language import said
from orders.reckoning.shape import (
    Answers,
    Choice,
    Either,
    EntryError,
    Flag,
    Group,
    ListOf,
    Number,
    Text,
    named,
    read_json,
)

__all__ = ["ENTRY", "FIELDS", "EntryError", "entry_schema", "read_entry", "read_entry_text"]

# A reading as typed. The parser refuses more than 64 characters with words at the field; what is longer
# than 200 was not typed by anybody.
_TYPED = Text(200)
_LABEL = Text(200)
_KEY = Text(64, least=1)
# In the unit its key names; as typed, or as a number.
_PLAIN = Either(_TYPED, Number(-10_000.0, 10_000.0))

_PIVOT = named("", "forward below_apex", forward=_TYPED, below_apex=_TYPED)

_KNEE = named(
    "pivots_seen hardware_length width depth stop_projection stop_below_apex thigh_side_below_apex "
    "thigh_side_width max_flexion_deg label",
    named=Choice(("single_axis", "polycentric")),
    pivots_seen=Choice(("one", "several", "unsure")),
    control=Choice(("mechanical", "fluid", "microprocessor", "powered")),
    hardware_length=_TYPED,
    width=_TYPED,
    depth=_TYPED,
    stop_projection=_TYPED,
    stop_below_apex=_TYPED,
    thigh_side_below_apex=_TYPED,
    thigh_side_width=_TYPED,
    max_flexion_deg=_PLAIN,
    label=_LABEL,
)

_FOOT = named(
    "hardware_above_rim rim_depth axis_above_rim width depth dorsiflexion_deg plantarflexion_deg label",
    profile=Choice(("low", "high")),
    ankle=Choice(("solid", "spring", "jointed", "wide")),
    hardware_above_rim=_TYPED,
    rim_depth=_TYPED,
    axis_above_rim=_TYPED,
    width=_TYPED,
    depth=_TYPED,
    dorsiflexion_deg=_PLAIN,
    plantarflexion_deg=_PLAIN,
    label=_LABEL,
)

_SERVICE_POINT = named(
    "",
    "below_apex",
    what=Text(80, least=1),
    side=Choice(("front", "rear", "inner", "outer")),
    below_apex=_TYPED,
    stays_open=Flag(),
)

_PERSON = named(
    "",
    "k_level heavy_wear needs_help_to_don age_band stature body_mass_kg sex",
    k_level=Choice(("K0", "K1", "K2", "K3", "K4")),
    heavy_wear=Flag(),
    needs_help_to_don=Flag(),
    age_band=Choice(("adult", "child")),
    stature=_TYPED,
    body_mass_kg=_PLAIN,
    sex=Choice(("female", "male")),
)

ENTRY = named(
    "collar_above_rim gap second_route girth_over swelling extra_girths rear_room pivots pylon moving_part "
    "service_points person answers",
    schema=Choice(("shankline-entry-1",)),
    reference=Text(64, least=1),
    side=Choice(("left", "right")),
    units=Choice(("mm", "cm", "in")),
    level=Choice(("transfemoral", "knee_disarticulation")),
    other_leg=Choice(("sound", "below_knee", "above_knee", "none")),
    construction=Choice(("bare", "foam_on", "exoskeletal")),
    taken=Choice(("standing", "seated", "off_body")),
    footwear=Choice(("low", "boot")),
    collar_above_rim=_TYPED,
    length=ListOf(_TYPED, 1, 3),
    gap=_TYPED,
    second_route=named("", "apex_to_floor rim_to_floor", apex_to_floor=_TYPED, rim_to_floor=_TYPED),
    girth=ListOf(_TYPED, 1, 3),
    girth_from=Choice(("sound_limb", "chosen")),
    girth_over=Choice(("skin", "stocking")),
    swelling=Choice(("none", "some", "hot_or_sudden")),
    extra_girths=ListOf(named("", "above_floor girth", above_floor=_TYPED, girth=_TYPED), 0, 12),
    knee=_KNEE,
    foot=_FOOT,
    rear_room=named(
        "", "thigh_behind_axis axis_below_apex", thigh_behind_axis=_TYPED, axis_below_apex=_TYPED
    ),
    pivots=named(lower_front=_PIVOT, lower_rear=_PIVOT, upper_front=_PIVOT, upper_rear=_PIVOT),
    pylon=named(
        "",
        "behind_front_at_apex lean_forward_deg lean_outward_deg",
        behind_front_at_apex=_TYPED,
        lean_forward_deg=_PLAIN,
        lean_outward_deg=_PLAIN,
    ),
    moving_part=named(
        "",
        "from_above_rim to_above_rim travel rotation_deg",
        from_above_rim=_TYPED,
        to_above_rim=_TYPED,
        travel=_TYPED,
        rotation_deg=_PLAIN,
    ),
    service_points=ListOf(_SERVICE_POINT, 0, 24),
    shell=named(
        "buckle_side upper_strap lower_strap",
        wall=_KEY,
        rear=_KEY,
        top=_KEY,
        colour=_KEY,
        finish=_KEY,
        buckle_side=Choice(("outer", "inner")),
        upper_strap=_TYPED,
        lower_strap=_TYPED,
    ),
    person=_PERSON,
    answers=Answers(100, Text(2000)),
)


def _dotted(group: Group, path: str = "") -> Iterator[str]:
    for key, shape in group.fields.items():
        yield path + key
        if isinstance(shape, Group):
            yield from _dotted(shape, f"{path}{key}.")


# Every field of the entry by its dotted path: what a check may speak of.
FIELDS_IN_ORDER = tuple(_dotted(ENTRY))
FIELDS = frozenset(FIELDS_IN_ORDER)


def words_of(path: str) -> tuple[str, ...]:
    """The words that a field of choice may be, by its dotted path; none for any other field."""
    shape: object = ENTRY
    for key in path.split("."):
        shape = shape.fields[key] if isinstance(shape, Group) else None
    return shape.words if isinstance(shape, Choice) else ()


def read_entry(value) -> dict:
    """An entry, read strictly.

    Parameters
    ----------
    value
        The entry as JSON values. Its key set is `ENTRY`.

    Returns
    -------
    dict
        The same, complete: every optional field that was left out is there as None.

    Raises
    ------
    EntryError
        With the dotted path of the first field that can't be read.
    """
    try:
        return ENTRY.read(value, "")
    except RecursionError:
        raise EntryError("", said("nested too deeply to be read.")) from None


def read_entry_text(text: str) -> dict:
    """An entry from JSON text; as `read_entry`, and refuses a key given twice, NaN and Infinity."""
    return read_entry(read_json(text))


def entry_schema() -> dict:
    """The entry's shape as JSON Schema."""
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "One entry: what was captured for one shank shell",
        **ENTRY.schema(),
    }


if __name__ == "__main__":
    print(json.dumps(entry_schema(), indent=1))
