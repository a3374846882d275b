"""What is in a seal: the JSON that a phone froze, read strictly. No Django below here."""

import hashlib
import uuid
from dataclasses import dataclass
from datetime import date, datetime

from orders.reckoning.constants import SHEETS_MM
from orders.reckoning.language import said
from orders.reckoning.shape import Choice, EntryError, ListOf, Name, Number, Text, named, read_json

SealError = EntryError  # `field` is the seal's key, `says` what is wrong, for a person
MAX_BYTES = 256 * 1024  # two entries with every field filled come to about 8 kB
VIEWS = ("front", "side", "knee", "foot", "free")
IN_PHOTOS = ("length", "hardware_length", "hardware_above_rim")  # what may be measured in a photo


@dataclass(frozen=True)
class Id:
    """A UUID."""

    def read(self, value, path: str) -> uuid.UUID:
        try:
            return uuid.UUID(value if isinstance(value, str) else "")
        except ValueError:
            raise SealError(path, said("is not an id.")) from None


@dataclass(frozen=True)
class Sha256:
    """A SHA-256 as 64 hex digits in small letters."""

    def read(self, value, path: str) -> str:
        if not isinstance(value, str) or len(value) != 64 or set(value) - set("0123456789abcdef"):
            raise SealError(path, said("is not a SHA-256 in hex."))
        return value


@dataclass(frozen=True)
class Whole:
    """A whole number."""

    least: int
    most: int

    def read(self, value, path: str) -> int:
        if type(value) is not int:
            raise SealError(path, said("should be a whole number."))
        return int(Number(self.least, self.most).read(value, path))


@dataclass(frozen=True)
class Day:
    """A day such as 2026-12-05."""

    def read(self, value, path: str) -> date:
        try:
            return date.fromisoformat(value if isinstance(value, str) else "")
        except ValueError:
            raise SealError(path, said("is not a day such as 2026-12-05.")) from None


@dataclass(frozen=True)
class Time:
    """A time with its zone, such as 2026-12-05T15:30:00Z."""

    def read(self, value, path: str) -> datetime:
        try:
            time = datetime.fromisoformat(value if isinstance(value, str) else "")
        except ValueError:
            time = None
        if time is None or time.tzinfo is None:
            raise SealError(path, said("is not a time with its zone."))
        return time


@dataclass(frozen=True)
class Entry:
    """One shell's entry; what it means is the reckoning's to read."""

    def read(self, value, path: str) -> dict:
        if not isinstance(value, dict):
            raise SealError(path, said("should be an entry."))
        return value


@dataclass(frozen=True)
class Trimmed:
    """A text, read without the space round it."""

    text: Text

    def read(self, value, path: str) -> str:
        return self.text.read(value, path).strip()


REFERENCE, INITIALS = Trimmed(Name(40, least=1)), Trimmed(Name(12))
VISIT = named(id=Id(), reference=REFERENCE, initials=INITIALS)
PLANNED_VISIT = named(
    "initials planned_for", id=Id(), reference=REFERENCE, initials=INITIALS, planned_for=Time()
)
PLACE = ListOf(Number(-20_000, 20_000), 2, 2)  # x, y from the photo's upper left [px]
# Where a sheet's corners and a measure's two ends were put: the places, never the phone's own number
MEASURED = named(
    what=Choice(IN_PHOTOS),
    sheet=Choice(tuple(SHEETS_MM)),
    size=ListOf(Whole(1, 20_000), 2, 2),  # of the photo they were put in [px]
    corners=ListOf(PLACE, 4, 4),
    ends=ListOf(PLACE, 2, 2),
)
PHOTO = named(
    "measured",
    sha256=Sha256(),
    bytes=Whole(0, 20_000_000),
    view=Choice(VIEWS),
    entry=Whole(0, 1),
    measured=MEASURED,
)
SEAL = named(
    "replies",
    "parent_sha256 need_by deliver_to",
    schema=Choice(("shankline-seal-1",)),
    id=Id(),
    parent_sha256=Sha256(),
    visit=VISIT,
    workshop=Id(),
    catalogue_version=Whole(1, 1_000_000),
    book_sha256=Sha256(),
    sheet_build=Text(64),
    need_by=Day(),
    deliver_to=Trimmed(Text(200)),
    entries=ListOf(Entry(), 1, 2),
    photos=ListOf(PHOTO, 0, 60),
    # answers to the workshop's queries, sealed with the revision that they explain
    replies=ListOf(named(query=Id(), says=Trimmed(Text(500))), 0, 20),
)
# What a phone counts as received, asked at its start; it asks in slices where it has more.
HAVE_LIST = named(
    seals=ListOf(named(order=Id(), sha256=Sha256()), 0, 100),
    photos=ListOf(Sha256(), 0, 3000),
)


@dataclass(frozen=True)
class SealContent:
    """What a seal says, checked for shape only."""

    id: uuid.UUID
    parent_sha256: str
    visit_id: uuid.UUID
    reference: str
    initials: str
    workshop_id: uuid.UUID
    catalogue_version: int
    book_sha256: str
    sheet_build: str
    need_by: date | None
    deliver_to: str
    entries: tuple[dict, ...]
    photos: tuple[dict, ...]
    replies: tuple[tuple[uuid.UUID, str], ...]


def sha256_of(raw: bytes) -> str:
    """SHA-256 of the exact bytes, as hex."""
    return hashlib.sha256(raw).hexdigest()


def read_seal(raw: bytes) -> SealContent:
    """Reads a seal's bytes. Raises SealError with the key that is wrong."""
    seal = SEAL.read(loaded(raw), "")
    visit = seal["visit"]
    return SealContent(
        id=seal["id"],
        parent_sha256=seal["parent_sha256"] or "",
        visit_id=visit["id"],
        reference=visit["reference"],
        initials=visit["initials"],
        workshop_id=seal["workshop"],
        catalogue_version=seal["catalogue_version"],
        book_sha256=seal["book_sha256"],
        sheet_build=seal["sheet_build"],
        need_by=seal["need_by"],
        deliver_to=seal["deliver_to"] or "",
        entries=tuple(seal["entries"]),
        photos=tuple(seal["photos"]),
        replies=tuple((reply["query"], reply["says"]) for reply in seal["replies"] or ()),
    )


def read_planned_visit(raw: bytes) -> dict:
    """Reads a visit that a phone plans. Raises SealError with the key that is wrong."""
    return PLANNED_VISIT.read(loaded(raw), "")


def read_have_list(raw: bytes) -> tuple[list[tuple[uuid.UUID, str]], list[str]]:
    """Reads which seals (order, hash) and photos a phone asks about. Raises SealError with the key that is wrong."""
    asked = HAVE_LIST.read(loaded(raw), "")
    return [(seal["order"], seal["sha256"]) for seal in asked["seals"]], list(asked["photos"])


def loaded(raw: bytes) -> object:
    """The bytes as JSON. Raises SealError."""
    if len(raw) > MAX_BYTES:
        raise SealError("", said("is longer than {most} bytes.", most=MAX_BYTES))
    try:
        return read_json(raw.decode("utf-8"))
    except UnicodeDecodeError:
        raise SealError("", said("is not JSON.")) from None
