"""What is in a seal: the JSON that a phone froze, read strictly. No Django below here."""

import hashlib
import json
import uuid
from dataclasses import dataclass
from datetime import date

SCHEMA = "shankline-seal-1"
MAX_BYTES = 256 * 1024  # two entries with every field filled come to about 8 kB
KEYS = {
    "schema",
    "id",
    "parent_sha256",
    "visit",
    "workshop",
    "catalogue_version",
    "book_sha256",
    "sheet_build",
    "need_by",
    "deliver_to",
    "entries",
    "photos",
}
OPTIONAL = {"replies"}  # answers to the workshop's queries, sealed with the revision that they explain
SHORT = 200  # characters in the free texts


class SealError(ValueError):
    """A seal that cannot be read: `field` is its key, `says` what is wrong, for a person."""

    def __init__(self, field: str, says: str) -> None:
        super().__init__(f"{field}: {says}" if field else says)
        self.field, self.says = field, says


@dataclass(frozen=True)
class SealContent:
    """What a seal says, checked for shape only: what its entries mean is the reckoning's to say."""

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
    seal = loaded(raw)
    for key in seal.keys() - KEYS - OPTIONAL:
        raise SealError(key[:40], "is not a key of a seal")
    for key in sorted(KEYS - seal.keys()):
        raise SealError(key, "is missing")
    if seal["schema"] != SCHEMA:
        raise SealError("schema", f"must be {SCHEMA}")
    visit = a_visit(seal["visit"])
    return SealContent(
        id=an_id(seal["id"], "id"),
        parent_sha256=a_hash(seal["parent_sha256"], "parent_sha256") if seal["parent_sha256"] else "",
        visit_id=visit[0],
        reference=visit[1],
        initials=visit[2],
        workshop_id=an_id(seal["workshop"], "workshop"),
        catalogue_version=a_count(seal["catalogue_version"], "catalogue_version"),
        book_sha256=a_hash(seal["book_sha256"], "book_sha256"),
        sheet_build=a_text(seal["sheet_build"], "sheet_build", 64),
        need_by=a_day(seal["need_by"], "need_by"),
        deliver_to=a_text(seal["deliver_to"] or "", "deliver_to", SHORT),
        entries=some_objects(seal["entries"], "entries", least=1, most=2),
        photos=some_objects(seal["photos"], "photos", least=0, most=60),
        replies=some_replies(seal.get("replies")),
    )


def loaded(raw: bytes) -> dict:
    """The bytes as a JSON object without duplicate keys. Raises SealError."""
    if len(raw) > MAX_BYTES:
        raise SealError("", f"is longer than {MAX_BYTES} bytes")
    try:
        seal = json.loads(raw.decode("utf-8"), object_pairs_hook=once_each, parse_constant=refuse_constant)
    except SealError:
        raise
    except (ValueError, RecursionError):
        raise SealError("", "is not JSON") from None
    if not isinstance(seal, dict):
        raise SealError("", "is not a JSON object")
    return seal


def once_each(pairs: list[tuple[str, object]]) -> dict:
    """An object's keys and values; a key that comes twice is refused, since readers would disagree about it."""
    keys = [key for key, _value in pairs]
    for key in keys:
        if keys.count(key) > 1:
            raise SealError(key[:40], "is given twice")
    return dict(pairs)


def refuse_constant(name: str) -> object:
    raise SealError("", f"holds {name}, which is not a number")


def a_visit(value: object) -> tuple[uuid.UUID, str, str]:
    """The visit's id, the person's reference and initials."""
    if not isinstance(value, dict) or value.keys() != {"id", "reference", "initials"}:
        raise SealError("visit", "must be an object with id, reference and initials")
    reference = a_text(value["reference"], "visit.reference", 40)
    if not reference:
        raise SealError("visit.reference", "is empty; give the clinic's own reference")
    return an_id(value["id"], "visit.id"), reference, a_text(value["initials"], "visit.initials", 12)


def an_id(value: object, field: str) -> uuid.UUID:
    try:
        return uuid.UUID(value if isinstance(value, str) else "")
    except ValueError:
        raise SealError(field, "is not an id") from None


def a_hash(value: object, field: str) -> str:
    if not isinstance(value, str) or len(value) != 64 or set(value) - set("0123456789abcdef"):
        raise SealError(field, "is not a SHA-256 in hex")
    return value


def a_text(value: object, field: str, most: int) -> str:
    """The text without space round it. Raises SealError when it is none, is too long or holds control characters."""
    if not isinstance(value, str):
        raise SealError(field, "is not text")
    text = value.strip()
    if len(text) > most:
        raise SealError(field, f"is longer than {most} characters")
    if any(ord(character) < 32 or 0xD800 <= ord(character) < 0xE000 for character in text):
        raise SealError(field, "holds a character that cannot be printed")
    return text


def a_count(value: object, field: str) -> int:
    if type(value) is not int or not 0 < value < 1_000_000:
        raise SealError(field, "is not a whole number above zero")
    return value


def a_day(value: object, field: str) -> date | None:
    if value is None:
        return None
    try:
        return date.fromisoformat(value if isinstance(value, str) else "")
    except ValueError:
        raise SealError(field, "is not a day such as 2026-12-05") from None


def some_objects(value: object, field: str, least: int, most: int) -> tuple[dict, ...]:
    if not isinstance(value, list) or not all(isinstance(item, dict) for item in value):
        raise SealError(field, "is not a list of objects")
    if not least <= len(value) <= most:
        raise SealError(field, f"must hold {least} to {most}")
    return tuple(value)


def some_replies(value: object) -> tuple[tuple[uuid.UUID, str], ...]:
    """The queries that are answered, with what is said to each."""
    replies = some_objects(value or [], "replies", least=0, most=20)
    for reply in replies:
        if reply.keys() != {"query", "says"}:
            raise SealError("replies", "must hold objects with query and says")
    return tuple(
        (an_id(reply["query"], "replies.query"), a_text(reply["says"], "replies.says", 500))
        for reply in replies
    )
