"""An entry in words: what each of its fields is called, and each answer as a person would say it.

Labels and choices are the measuring sheet's own, options the catalogue's, so that the workshop reads the very
words that the clinician chose.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from django.utils.text import capfirst
from django.utils.translation import get_language
from django.utils.translation import gettext as _
from django.utils.translation import gettext_noop as noop

from capture.sheet_fields import BY_KEY
from orders.reckoning.entry import FIELDS_IN_ORDER
from orders.reckoning.errors import Unreadable
from orders.reckoning.typed import read_length

NOT_ANSWERS = {"schema", "reference", "answers"}
"""Keys of an entry that are no field of it; reasons are read beside their flags."""

# What an entry may hold and the sheet does not ask for, or calls by a name that needs the sheet around it.
OTHER_LABELS = {
    "second_route.apex_to_floor": noop("apex to floor"),
    "knee.pivots_seen": noop("pins on one side"),
    "foot.profile": noop("above the rim"),
    "units": noop("unit of the tape"),
    "gap": noop("gap"),
    "extra_girths": noop("further girths"),
    "service_points": noop("what stays reachable"),
    "knee.stop_projection": noop("extension stop, how far it stands out"),
    "knee.stop_below_apex": noop("extension stop, below the apex"),
    "knee.thigh_side_below_apex": noop("knee's thigh side, below the apex"),
    "knee.thigh_side_width": noop("knee's thigh side, width"),
    "knee.max_flexion_deg": noop("knee bends as far as"),
    "rear_room.thigh_behind_axis": noop("thigh behind the knee's axis"),
    "rear_room.axis_below_apex": noop("knee's axis below the apex"),
    "pivots.upper_front.forward": noop("upper front pivot, forward"),
    "pivots.upper_front.below_apex": noop("upper front pivot, below the apex"),
    "pivots.upper_rear.forward": noop("upper rear pivot, forward"),
    "pivots.upper_rear.below_apex": noop("upper rear pivot, below the apex"),
    "pivots.lower_front.forward": noop("lower front pivot, forward"),
    "pivots.lower_front.below_apex": noop("lower front pivot, below the apex"),
    "pivots.lower_rear.forward": noop("lower rear pivot, forward"),
    "pivots.lower_rear.below_apex": noop("lower rear pivot, below the apex"),
    "pylon.behind_front_at_apex": noop("pylon behind the front, at the apex"),
    "pylon.lean_forward_deg": noop("pylon leans forward"),
    "pylon.lean_outward_deg": noop("pylon leans outward"),
    "moving_part.from_above_rim": noop("moving part, from above the rim"),
    "moving_part.to_above_rim": noop("moving part, up to above the rim"),
    "moving_part.travel": noop("moving part, travel"),
    "moving_part.rotation_deg": noop("moving part, turns by"),
    "shell.upper_strap": noop("upper strap, below the top edge"),
    "shell.lower_strap": noop("lower strap, above the bottom edge"),
    "person.stature": noop("stature"),
    "person.body_mass_kg": noop("body mass"),
    "person.sex": noop("sex"),
}
FREE_TEXTS = {"knee.label", "foot.label", "person.sex", "units"}
NOT_GIVEN = noop("not given")


@dataclass(frozen=True)
class Answer:
    """One field of an entry, in words."""

    path: str
    label: str
    words: str


def answers(entry: dict, catalogue: dict) -> list[Answer]:
    """Every field that the entry answers, in the contract's order, in words.

    Not in the order in which the entry happens to hold them: a database may keep an object's keys in its own.
    """
    given = dict(flat(entry))
    return [
        Answer(path, label_of(path), words_of(path, given[path], entry["units"], catalogue))
        for path in FIELDS_IN_ORDER
        if given.get(path) is not None and path not in NOT_ANSWERS
    ]


def flat(entry: dict, before: str = "") -> Iterator[tuple[str, object]]:
    """The entry's fields by dotted path; lists stay whole."""
    for key, value in entry.items():
        path = f"{before}{key}"
        if isinstance(value, dict) and path not in NOT_ANSWERS:
            yield from flat(value, f"{path}.")
        else:
            yield path, value


def label_of(path: str) -> str:
    """What a field is called, beginning with a capital."""
    if path in OTHER_LABELS:
        return capfirst(_(OTHER_LABELS[path]))
    if path in BY_KEY:
        return capfirst(_(BY_KEY[path].brief))
    return capfirst(path.rpartition(".")[2].replace("_", " "))


def words_of(path: str, value: object, unit: str, catalogue: dict) -> str:
    """An answer as a person would say it; measurements as typed, with their unit.

    Parameters
    ----------
    path : str
        Dotted path in the entry.
    value
        What stands there.
    unit : str
        What a bare number means in this entry: mm, cm or in.
    catalogue : dict
        The catalogue that the entry's options belong to.
    """
    if value is None:
        return _(NOT_GIVEN)
    if isinstance(value, bool):
        return _("yes") if value else _("no")
    if isinstance(value, list):
        return listed(path, value, unit)
    field = BY_KEY.get(path)
    if field and field.options:
        return option_words(catalogue, field.options, value)
    if field and field.choices:
        return choice_words(field, value)
    return plain_words(path, value, unit)


def option_words(catalogue: dict, options: str, key: object) -> str:
    """What the catalogue calls an option; the key itself where it has none such."""
    labels = {option["key"]: option["label"] for option in catalogue.get(options, [])}
    return str(labels.get(key, key))


def choice_words(field, value: object) -> str:
    """What the sheet calls a choice, not beginning a sentence."""
    labels = {choice.value: choice.label for choice in field.choices}
    return uncapitalised(_(labels[value])) if value in labels else str(value)


def uncapitalised(words: str) -> str:
    """Without the capital of a sentence's beginning; capitals (K3) stay, and German nouns."""
    if get_language() == "de":
        return words
    second = words[1:2]
    return words[:1].lower() + words[1:] if second.islower() or second.isspace() else words


def plain_words(path: str, value: object, unit: str) -> str:
    """A number with its unit, a measurement as typed, or free text."""
    if path in FREE_TEXTS:
        return str(value)
    if path.endswith("_deg"):
        return f"{value}°"
    if path.endswith("_kg"):
        return f"{value} kg"
    return as_typed(str(value), unit)


def as_typed(text: str, unit: str) -> str:
    """A measurement as typed, with its unit where none was typed with it."""
    try:
        reading = read_length(text.removeprefix("-").removeprefix("−").strip(), unit)
    except Unreadable:
        return text
    return text if reading.unit_typed else f"{text} {unit}"


def listed(path: str, values: list, unit: str) -> str:
    """Repeats of a reading, further girths, service points: one after the other."""
    if path == "service_points":
        return ", ".join(service_point_words(point, unit) for point in values) or _("nothing")
    if path == "extra_girths":
        return ", ".join(extra_girth_words(girth, unit) for girth in values) or _("none")
    texts = [as_typed(value, unit) if isinstance(value, str) else str(value) for value in values]
    return _(" and ").join(texts) if len(texts) < 3 else ", ".join(texts)


def service_point_words(point: dict, unit: str) -> str:
    """ "charging port, rear, 3 in below the apex, stays open"."""
    parts = [str(point.get("what", "")), str(point.get("side", ""))]
    if point.get("below_apex"):
        parts.append(_("{length} below the apex").format(length=as_typed(point["below_apex"], unit)))
    if point.get("stays_open"):
        parts.append(_("stays open"))
    return ", ".join(part for part in parts if part)


def extra_girth_words(girth: dict, unit: str) -> str:
    """ "9 1/4 in at 5 in above the floor"."""
    return _("{girth} at {height} above the floor").format(
        girth=as_typed(str(girth.get("girth", "")), unit),
        height=as_typed(str(girth.get("above_floor", "")), unit),
    )
