"""The fields of the measuring sheet, each defined once, in the order in which they are asked.

The sheet's static page is rendered from this list, the phone asks in its order, and the tests hold it
against the entry of the reckoning. Nothing here knows a person, a workshop's options or Django.

A field is asked while its `asked_when` holds. While it isn't asked it stands at `starts_at`, which the sheet
folds away as "taken as given" and *Check and send* reads back. It exists for the measurer while its
`open_when` holds; a field that isn't open is left out of the entry. Both are expressions in the rule book's
notation over flat names: a field's key with its dots turned into underscores (`knee.named` is `knee_named`),
as text, "" while nothing is known.

What can be seen is asked before what it is called. Where hand and tape go follows the entry's definitions of
apex, rim, hardware length and hardware above rim; posture and easy mistakes are common practice, no source.
"""

from capture.sheet_fields import foot, girth, knee, leg, length, photos, shell
from capture.sheet_fields.field import ADVISED, FIRST_OPTION, PARTS, Choice, Column, Field, Part, Row

__all__ = [
    "ADVISED",
    "BY_KEY",
    "FIELDS",
    "FIRST_OPTION",
    "PARTS",
    "Choice",
    "Column",
    "Field",
    "Part",
    "Row",
    "fields_of",
]

FIELDS = (
    *leg.FIELDS,
    *knee.FIELDS,
    *foot.FIELDS,
    *length.FIELDS,
    *girth.FIELDS,
    *shell.FIELDS,
    *photos.FIELDS,
)
BY_KEY = {field.key: field for field in FIELDS}


def fields_of(part: Part) -> tuple[Field, ...]:
    """The fields of one part, in the order in which they are asked."""
    return tuple(field for field in FIELDS if field.part is part)
