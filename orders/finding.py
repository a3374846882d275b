"""Finding an order by its reference: by its beginning, or by the beginning of any of its letters or numbers.

"NF-0147" is found by "nf-01", by "0147" and by "147". What can be asked for is written down when the order comes into
being, as bytes: they stand in one order in every database and every language, so that a beginning is one stretch of
an index however many orders there are.
"""

import re
import unicodedata
import uuid

from orders import access
from orders.models import Order, ReferencePart
from project.models import Member

FOUND_MOST = 500  # a search that finds more is told to no more
PARTS_MOST = 8
# Where a search may begin: at a run of letters, at a run of digits, at its first digit that isn't nought.
_BEGINNINGS = re.compile(r"[^\W\d_]+|\d+")


def spelled(text: str) -> str:
    """A reference or what is looked for, without its case and its marks; marks alone stay as they are.

    >>> spelled("NF-0147")
    'nf0147'
    """
    folded = unicodedata.normalize("NFKC", text).casefold()
    return "".join(letter for letter in folded if letter.isalnum()) or "".join(folded.split())


def parts_of(reference: str) -> list[str]:
    """What a reference can be found by the beginning of, the whole first.

    >>> parts_of("NF-0147")
    ['nf0147', '0147', '147']
    """
    folded, begins = unicodedata.normalize("NFKC", reference).casefold(), [0]
    for run in _BEGINNINGS.finditer(folded):
        noughts = len(run[0]) - len(run[0].lstrip("0"))
        begins += [run.start(), run.start() + noughts]
    parts = dict.fromkeys(spelled(folded[begin:]) for begin in begins)
    return [part for part in parts if part][:PARTS_MOST]


def write_parts(order: Order) -> None:
    """Writes down what an order can be found by; part of the move that makes it."""
    ReferencePart.objects.bulk_create(
        ReferencePart(
            order=order, clinic_id=order.clinic_id, workshop_id=order.workshop_id, part=part.encode()
        )
        for part in parts_of(order.person.reference)
    )


def orders_found(member: Member, find: str) -> list[uuid.UUID]:
    """The orders of this member's whose reference has a part that begins so, in one query by an index."""
    begins = spelled(find).encode()
    if not begins:
        return []
    # No byte of UTF-8 is 0xFF: it stands behind whatever may follow.
    parts = access.reference_parts_of(member).filter(part__gte=begins, part__lt=begins + b"\xff")
    found = parts.order_by("part").values_list("order_id", flat=True)[:FOUND_MOST]
    return list(dict.fromkeys(found))
