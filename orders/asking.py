"""What a workshop may ask about: the answers of one shell's entry, and its photos."""

from collections.abc import Sequence
from dataclasses import dataclass

from django.utils.text import Truncator
from django.utils.translation import gettext as _

from orders.models import Order, Revision
from orders.moves import may_move
from orders.photos import PhotoShown
from orders.proposal import unanswered
from orders.wording import NOT_GIVEN, answers, label_of
from project.models import Member

WORDS_MOST = 60  # of an answer in the list to choose from
NOT_ASKED = {"units"}  # what a bare number means stands in every reading's own words

RESTS_ON = {
    "length_taken_mm": ("length", "second_route.apex_to_floor", "second_route.rim_to_floor"),
    "gap_mm": ("gap", "foot.ankle"),
    "finished_length_mm": ("length", "gap", "foot.ankle"),
    "girth_mm": ("girth", "girth_from", "girth_over"),
    "inside_girth_mm": ("girth", "shell.wall"),
    "upper_strap_mm": ("shell.upper_strap", "knee.hardware_length", "knee.named"),
    "strap_spacing_mm": (
        "shell.upper_strap",
        "shell.lower_strap",
        "length",
        "knee.hardware_length",
        "foot.hardware_above_rim",
    ),
    "lower_strap_mm": ("shell.lower_strap", "foot.hardware_above_rim", "foot.profile", "gap"),
    "rear_end_above_rim_mm": ("shell.rear", "length"),
    "rear_trim_mm": ("rear_room.thigh_behind_axis", "rear_room.axis_below_apex", "girth"),
    "margin_mm": ("foot.ankle", "foot.axis_above_rim", "gap"),
    "mass_g": ("shell.wall", "length", "girth"),
}
"""What was captured that each figure rests on, the likeliest mistake first: a figure itself is nobody's answer."""


@dataclass(frozen=True)
class Subject:
    """One thing that can be asked about: an entry's dotted path or photo:<sha256>, and how it reads."""

    field: str
    says: str


def subjects(entry: dict, catalogue: dict, photos: Sequence[PhotoShown]) -> list[Subject]:
    """Everything of one shell that can be asked about, in the entry's order, its photos last."""
    said = [answer for answer in answers(entry, catalogue) if answer.path not in NOT_ASKED]
    read = [Subject(answer.path, f"{answer.label}: {short(answer.words)}") for answer in said]
    read += [Subject(path, f"{label_of(path)}: {_(NOT_GIVEN)}") for path in unanswered(entry)]
    return read + [Subject(photo.field, photo.name) for photo in photos]


def short(words: str) -> str:
    """At most a line of it."""
    return Truncator(words).chars(WORDS_MOST)


def rests_on(about: str, known: Sequence[Subject]) -> list[Subject]:
    """The subjects that a figure rests on, or the one that is named; none for what isn't there."""
    by_field = {subject.field: subject for subject in known}
    return [by_field[field] for field in RESTS_ON.get(about, (about,)) if field in by_field]


def choices(about: str, known: Sequence[Subject]) -> list[tuple[str, list[tuple[str, str]]]]:
    """The list to choose from, in groups: what the row is about first, then the rest of the shell."""
    near = rests_on(about, known)
    rest = [subject for subject in known if subject not in near]
    groups = [(_("What this rests on"), near), (_("Everything else of this shell"), rest)]
    return [(name, [(subject.field, subject.says) for subject in group]) for name, group in groups if group]


def may_ask(order: Order, read: Revision, member: Member) -> bool:
    """Whether the page offers a query: on the revision that counts, while there is just one."""
    return may_move(order, "query", member) and read.number == order.revision_number and not order.contested
