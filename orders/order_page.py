"""What the order's page shows, put together from one revision and the one before it."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from django.utils.translation import gettext as _
from django.utils.translation import gettext_noop as noop

from orders.changes import Change, Shell, changes, shells_of
from orders.drawings import drawing_to_scale
from orders.figure_rows import FigureRow, digits, figure_rows
from orders.flags_shown import FlagShown, flags_shown
from orders.lookups import Happened
from orders.models import Order, Revision
from orders.moves import may_move
from orders.photos import PhotoShown
from orders.readings import HOLD_READINGS, TypedReading, is_reading, typed_readings
from orders.wording import Answer, answers, uncapitalised, words_of
from project.models import Member

HAPPENED = {
    "send": noop("Sent"),
    "correct": noop("Sent again, corrected"),
    "query": noop("Query asked"),
    "withdraw": noop("Query withdrawn"),
    "reply": noop("Replied"),
    "contest": noop("A second version came in"),
    "pick": noop("The clinic picked between two versions"),
    "confirm": noop("Confirmed"),
    "start": noop("Making begun"),
    "stage": noop("A stage done"),
    "stage undone": noop("A stage taken back"),
    "inspect": noop("Measured"),
    "remake": noop("Measured, to be made again"),
    "make": noop("Made"),
    "ship": noop("Shipped"),
    "cancel": noop("Cancelled"),
    "handout made": noop("Handout link made"),
    "handout withdrawn": noop("Handout link withdrawn"),
    "problem": noop("A problem reported"),
}
BY_LINK = ("problem",)  # done by the person, who is no member
FITTED = ("knee.", "foot.", "footwear", "construction", "service_points", "moving_part")
WANTED = ("shell.",)


@dataclass(frozen=True)
class ShellShown:
    """One shell of the page. `side` is a word to read, `entry_side` the entry's own."""

    side: str
    entry_side: str
    level: str
    build: str
    colour: str
    options: list[Answer]
    drawing: str
    rows: list[FigureRow]
    flags: list[FlagShown]
    readings: list[TypedReading]
    fitted: list[Answer]
    measured: list[Answer]
    photos: list[PhotoShown]
    changed: int


def shells_shown(
    read: Revision, before: Revision | None, photos: Sequence[PhotoShown] = ()
) -> list[ShellShown]:
    """Every shell of the revision that is read, with its own of the photos."""
    was = {shell.side: shell for shell in shells_of(before)} if before else {}
    return [
        shell_shown(shell, was.get(shell.side), [photo for photo in photos if photo.entry == place])
        for place, shell in enumerate(shells_of(read))
    ]


def shell_shown(shell: Shell, was: Shell | None, photos: list[PhotoShown]) -> ShellShown:
    """One shell: drawing, figures, flags, and everything that was answered, sorted by what it is about."""
    rows = figure_rows(shell.entry, shell.result, (was.entry, was.result) if was else None)
    said = [answer for answer in answers(shell.entry, shell.catalogue) if told(answer)]
    about = {"units", "side", "level"}
    return ShellShown(
        side=_(shell.side),
        entry_side=shell.side,
        level=words_of("level", shell.entry["level"], "mm", shell.catalogue),
        build=options_in_short(shell, "wall", "rear", "top"),
        colour=options_in_short(shell, "colour", "finish"),
        options=wanted(shell, said),
        drawing=drawing_to_scale(shell.entry, shell.result, shell.catalogue),
        rows=rows,
        flags=flags_shown(shell.entry, shell.result),
        readings=typed_readings(shell.entry),
        fitted=[answer for answer in said if answer.path.startswith(FITTED)],
        measured=[a for a in said if not a.path.startswith((*FITTED, *WANTED)) and a.path not in about],
        photos=photos,
        changed=sum(1 for row in rows if row.was),
    )


def options_in_short(shell: Shell, *keys: str) -> str:
    """What was chosen, in a row: "thin, short, plain"."""
    chosen = shell.entry["shell"]
    return ", ".join(
        uncapitalised(words_of(f"shell.{key}", chosen[key], "mm", shell.catalogue)) for key in keys
    )


def told(answer: Answer) -> bool:
    """Whether an answer is told in words; single measurements have a list of their own."""
    return answer.path in HOLD_READINGS or not is_reading(answer.path)


def wanted(shell: Shell, said: list[Answer]) -> list[Answer]:
    """What the clinic chose from the catalogue, with the wall's thickness, and the pad where one is advised."""
    walls = {wall["key"]: wall["wall_mm"] for wall in shell.catalogue["walls"]}
    chosen = []
    for answer in (answer for answer in said if answer.path.startswith(WANTED)):
        if answer.path == "shell.wall" and shell.entry["shell"]["wall"] in walls:
            thickness = digits(walls[shell.entry["shell"]["wall"]], 2)
            answer = Answer(
                answer.path, answer.label, _("{wall}, {mm} mm").format(wall=answer.words, mm=thickness)
            )
        chosen.append(answer)
    if shell.result.get("foam_pad"):
        chosen.append(
            Answer("foam_pad", _("Foam pad"), _("one at the top: the upper strap lies below the middle"))
        )
    return chosen


def changes_between(before: Revision | None, after: Revision) -> list[Change]:
    """What differs between two revisions; nothing where there was none before."""
    return changes(shells_of(before), shells_of(after)) if before else []


def revision_before(
    revisions: list[Revision], read: Revision, asked: str = "", looked_at: datetime | None = None
) -> Revision | None:
    """The older revision that this one is held against; None for the first, or where another is asked for than there is.

    The one that is asked for by its number; else the newest that was there when somebody here looked last, where more
    have come since; else the one before.
    """
    older = [revision for revision in revisions if revision.number < read.number]
    if asked:
        return next((revision for revision in older if str(revision.number) == asked), None)
    seen = [revision for revision in older if looked_at and revision.created_at <= looked_at]
    return max(seen or older, key=lambda revision: revision.number, default=None)


@dataclass(frozen=True)
class HistoryLine:
    """One thing that happened, in words."""

    words: str
    revision: int | None
    who: str
    at: datetime


def history_lines(happened: list[Happened]) -> list[HistoryLine]:
    """Everything that happened, newest first."""
    return [
        HistoryLine(_(HAPPENED[event.what]), event.revision, who(event), event.at)
        for event in reversed(happened)
    ]


def who(event: Happened) -> str:
    """Initials and organisation; the member may have left."""
    if event.what in BY_LINK:
        return _("the person, by their link")
    if event.member is None:
        return _("somebody who has left")
    return f"{event.member.initials}, {event.member.organisation.name}"


def confirmation(happened: list[Happened]) -> HistoryLine | None:
    """Who confirmed the order, which revision, and when; None while nobody has."""
    confirmed = [event for event in happened if event.what == "confirm"]
    return history_lines(confirmed)[0] if confirmed else None


def may_be_confirmed(order: Order, read: Revision, member: Member) -> bool:
    """Whether the page offers to confirm: the revision that counts, of an order that waits for just that."""
    return may_move(order, "confirm", member) and read.number == order.revision_number and not order.contested


def waits_because(order: Order) -> str:
    """Why the workshop can't confirm an order that nobody has confirmed; "" where it can."""
    if order.state == Order.State.CANCELLED:
        return _("The clinic has cancelled this order. Nothing is to be made.")
    if order.contested:
        return _(
            "The clinic sent two versions of this order and must pick one. Until then nothing is confirmed."
        )
    if order.state == Order.State.QUERIED:
        return _("A query waits for the clinic's reply. Until then nothing is confirmed.")
    return ""
