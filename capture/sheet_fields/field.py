"""What a field of the measuring sheet is made of."""

from dataclasses import dataclass

FIRST_OPTION = "@first"
"""Starts at the first option of the workshop's catalogue."""
ADVISED = "@advised"
"""Starts empty: the reckoning advises a value."""


def _(text: str) -> str:
    """Mark a text for translation; it is translated where the page is rendered."""
    return text


@dataclass(frozen=True)
class Part:
    """One part of the sheet: a stretch of the ruler at its top."""

    key: str
    name: str


LEG = Part("leg", _("leg"))
KNEE = Part("knee", _("knee"))
FOOT = Part("foot", _("foot"))
LENGTH = Part("length", _("length"))
GIRTH = Part("girth", _("girth"))
SHELL = Part("shell", _("shell"))
PHOTOS = Part("photos", _("photos"))
PARTS = (LEG, KNEE, FOOT, LENGTH, GIRTH, SHELL, PHOTOS)

NOT_ASKED = "false"
"""Stays folded away at what it starts at, until the measurer changes it."""


@dataclass(frozen=True)
class Choice:
    """One answer of a choice: the entry's word for it, and the measurer's.

    Attributes
    ----------
    holds : tuple of str
        Of a question that only the sheet asks (`home` "sheet"): all the fields that this answer asks for. From
        them the answer is told again when a sent entry is taken up.
    """

    value: str
    label: str
    note: str = ""
    holds: tuple[str, ...] = ()


@dataclass(frozen=True)
class Column:
    """One length in a row of several: its key in the entry, and what the measurer calls it."""

    key: str
    label: str
    signed: bool = False


@dataclass(frozen=True)
class Row:
    """A row that is always there: its key in the entry, and what the measurer calls it."""

    key: str
    label: str


@dataclass(frozen=True)
class Field:
    """One field of the sheet, shown on a view of its own.

    Attributes
    ----------
    key : str
        Dotted path in the entry; for `home` "seal", the seal's own key; for "sheet" a name of its own.
    kind : str
        "choice", "yes_no", "option" (one of the workshop's `options`), "workshop", "readings" (up to three
        of one length), "reading" (one length), "number" (in `unit`), "rows" (lengths in rows), "points" (what
        must stay reachable), "text", "date", "photos", "marks" (what is marked before measuring).
    brief : str
        What a button or a fold calls it: "Next: girth".
    drawing : str
        Key of its guide drawing.
    posture, where, easy_mistake, caution : str
        The words beside the drawing; under 30 in all.
    options : str
        Key of a list in the workshop's catalogue.
    quantity : str
        Which ordinary range a length is held against; "" for none.
    signed : bool
        Whether a length may lie the other way; a minus then stands before it.
    least, most : float or None
        Range of a number, both ends allowed. [`unit`]
    asked_when, open_when : str
        In the rule book's notation, see the package's first page.
    starts_at : str, bool or None
        What stands while the field isn't asked; None for nothing.
    required : bool
        Whether *Next* wants an answer while the field is asked.
    offered : bool
        Not asked by itself: offered beside a reading, and asked once it was taken up.
    asked_by : str
        Id of the check whose flag makes the sheet ask, whatever `asked_when` says; "" for none.
    columns, rows, most_rows
        Of kind "rows": the lengths of each row; the rows, where they are always the same ones; else how many there
        may be.
    home : str
        Where the answer goes: "entry", "seal", or "sheet" for what only decides what is asked; "step" for what is
        done and not answered.
    """

    key: str
    part: Part
    kind: str
    label: str
    brief: str
    drawing: str
    posture: str = ""
    where: str = ""
    easy_mistake: str = ""
    caution: str = ""
    choices: tuple[Choice, ...] = ()
    options: str = ""
    quantity: str = ""
    unit: str = ""
    signed: bool = False
    least: float | None = None
    most: float | None = None
    asked_when: str = "true"
    open_when: str = "true"
    starts_at: str | bool | None = None
    required: bool = True
    offered: bool = False
    asked_by: str = ""
    columns: tuple[Column, ...] = ()
    rows: tuple[Row, ...] = ()
    most_rows: int = 0
    home: str = "entry"

    @property
    def name(self) -> str:
        """What expressions call this field's answer."""
        return self.key.replace(".", "_")

    @property
    def words(self) -> str:
        """Everything that is read before measuring."""
        return " ".join((self.label, self.posture, self.where, self.easy_mistake))
