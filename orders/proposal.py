"""The workshop proposes a value for one entry; the clinic accepts it with a tap, and it becomes the next revision.

What is accepted is sealed here as a phone would seal it, and taken in through the same door with the same checks.
"""

import copy
import json
from collections.abc import Mapping
from dataclasses import dataclass

from django.utils.translation import gettext as _

from capture import sync
from capture.seal import sha256_of
from capture.sheet_fields import BY_KEY
from orders.changes import Change, Shell, changes, shells_of
from orders.figure_rows import digits
from orders.models import Order, Query, Revision
from orders.reckon import reckon
from orders.reckoning.entry import FIELDS_IN_ORDER
from orders.reckoning.errors import Unreadable
from orders.reckoning.typed import read_length
from orders.rulebook.book import load_book
from orders.rulebook.told import flags_in_words
from orders.wording import label_of, uncapitalised, words_of
from project.models import Member

STRAPS = {"shell.upper_strap": "upper_strap_mm", "shell.lower_strap": "lower_strap_mm"}
"""The places of the straps, with the figure each becomes: the sheet never asks for them."""
READINGS = {"gap", "knee.hardware_length", "foot.hardware_above_rim", *STRAPS}
OPTIONS = {"shell.wall", "shell.rear", "shell.top", "shell.colour", "shell.finish"}
PROPOSABLE = READINGS | OPTIONS | {"shell.buckle_side"}
"""The entries that a workshop may have a better value for. What was measured on the person is only ever asked about."""
SAME_PLACE_MM = 0.001  # nothing but rounding


class CannotPropose(ValueError):
    """A value that can't be proposed; its text says why, for the person who typed it."""


def unanswered(entry: Mapping) -> list[str]:
    """What may be proposed, or asked about, though the entry doesn't say it."""
    high = ["foot.hardware_above_rim"] if is_high(entry) else []
    places = ["gap", "knee.hardware_length", *high, *STRAPS]
    return [path for path in places if value_at(entry, path) is None]


def is_high(entry: Mapping) -> bool:
    """Whether something of the foot stands above the rim."""
    return entry["foot"]["profile"] == "high"


def value_at(entry: Mapping, path: str) -> object:
    """What stands at a dotted path of an entry, or None."""
    part, _dot, name = path.partition(".")
    return (entry.get(part) or {}).get(name) if name else entry.get(path)


def with_value(entry: Mapping, path: str, value: str) -> dict:
    """The entry with another value at a dotted path."""
    changed = copy.deepcopy(dict(entry))
    part, _dot, name = path.partition(".")
    if name:
        changed[part] = {**(changed.get(part) or {}), name: value}
    else:
        changed[path] = value
    return changed


def read_proposed(text: str, field: str, shell: Shell) -> str:
    """The value that a text proposes, as the entry holds it: a measurement as typed, or an option's key.

    Raises CannotPropose.
    """
    text = text.strip()
    if field not in PROPOSABLE:
        raise CannotPropose(
            _("Only {fields} can be proposed. Ask about the rest.").format(fields=fields_words())
        )
    value = measured(text, shell) if field in READINGS else chosen(text, field, shell.catalogue)
    if value == value_at(shell.entry, field):
        raise CannotPropose(_("That is what the order says already."))
    refuse_unmakable(value, field, shell)
    return value


def refuse_unmakable(value: str, field: str, shell: Shell) -> None:
    """Refuses what the checks would stop, or the mechanism undo: the clinic could never take it with a tap.

    What the order is stopped by as it stands is no fault of the proposal's. Raises CannotPropose.
    """
    result = reckon(with_value(shell.entry, field, value), shell.catalogue, told=True)
    stands = {flag["id"] for flag in shell.result["flags"]}
    for flag, words in zip(result["flags"], flags_in_words(result), strict=True):
        if flag["level"] == "stop" and flag["id"] not in stands:
            raise CannotPropose(words)
    place = result[STRAPS[field]] if field in STRAPS else None
    if place is not None and abs(place - float(read_length(value, "mm").mm_exact)) > SAME_PLACE_MM:
        raise CannotPropose(_("The mechanism keeps it at {place} mm.").format(place=digits(place, 1)))


def fields_words() -> str:
    """What can be proposed, in words."""
    paths = [path for path in FIELDS_IN_ORDER if path in PROPOSABLE]
    return ", ".join(uncapitalised(label_of(path)) for path in paths)


def measured(text: str, shell: Shell) -> str:
    """A measurement with its unit, so that no unit of the tape's decides what it means. Raises CannotPropose."""
    try:
        reading = read_length(text, "mm")
    except Unreadable as unreadable:
        raise CannotPropose(unreadable.says) from None
    return text if reading.unit_typed else f"{text} mm"


def chosen(text: str, field: str, catalogue: Mapping) -> str:
    """The key of an option by its key or its name. Raises CannotPropose."""
    known = names_of(field, catalogue)
    for key, name in known.items():
        if text.casefold() in {key.casefold(), name.casefold()}:
            return key
    raise CannotPropose(
        _("There is no such one. There are: {names}.").format(names=", ".join(known.values()))
    )


def names_of(field: str, catalogue: Mapping) -> dict[str, str]:
    """What can be chosen for a field: names by key."""
    sheet = BY_KEY[field]
    if sheet.options:
        return {option["key"]: option["label"] for option in catalogue[sheet.options]}
    return {choice.value: _(choice.label) for choice in sheet.choices}


def proposal_words(query: Query, shell: Shell) -> str:
    """ "Gap 22 mm", or "" for a query that proposes nothing."""
    if not query.proposed:
        return ""
    words = words_of(query.field, query.proposed, shell.entry["units"], shell.catalogue)
    return f"{label_of(query.field)} {uncapitalised(words)}"


@dataclass(frozen=True)
class Reason:
    """A reason that the proposal asks for."""

    flag: str
    says: str


@dataclass(frozen=True)
class Outcome:
    """What accepting would come to. `cannot` says what stands in the way; `reasons` are what it asks for."""

    words: str
    changes: list[Change]
    cannot: str
    reasons: list[Reason]


def outcome(query: Query, current: Revision) -> Outcome | None:
    """What an open query's proposal would make of the current revision; None where it proposes nothing."""
    shells = shells_of(current)
    shell = next((shell for shell in shells if shell.side == query.side), None)
    if not query.proposed or shell is None:
        return None
    entry, result = proposed_entry(query, shell)
    says = list(zip(result["flags"], flags_in_words(result), strict=True))
    stops = [words for flag, words in says if flag["level"] == "stop"]
    wanted = [Reason(flag["id"], words) for flag, words in says if flag["level"] == "explain"]
    return Outcome(
        words=proposal_words(query, shell),
        changes=changes([shell], [Shell(entry, result, shell.catalogue)]),
        cannot=" ".join(stops),
        reasons=[reason for reason in wanted if not entry["answers"].get(reason.flag)],
    )


def proposed_entry(query: Query, shell: Shell) -> tuple[dict, dict]:
    """The shell's entry with the proposed value, and its result.

    A reason holds only for the figures it was given for: where a flag now says something else, its reason goes.
    """
    entry = with_value(shell.entry, query.field, query.proposed)
    result = reckon(entry, shell.catalogue, told=True)
    said = {flag["id"]: flag["says"] for flag in shell.result["flags"]}
    now = {flag["id"]: flag["says"] for flag in result["flags"]}
    answers = shell.entry.get("answers") or {}
    entry["answers"] = {
        flag: reason for flag, reason in answers.items() if flag not in now or now[flag] == said.get(flag)
    }
    return entry, result


def accept(order: Order, query: Query, member: Member, current: Revision, reasons: Mapping[str, str]) -> dict:
    """Seals the proposal and takes it in; the receipt, as a phone would get it.

    The same acceptance twice makes the same bytes, and so the same revision.
    """
    raw = sealed(query, current, reasons)
    return sync.take_seal(member, order.id, sha256_of(raw), raw)


def sealed(query: Query, current: Revision, reasons: Mapping[str, str]) -> bytes:
    """The current seal with the proposed value in its entry, a reply to the query, and itself as the parent."""
    content = json.loads(bytes(current.seal.raw))
    shells = {shell.side: shell for shell in shells_of(current)}
    entry, _result = proposed_entry(query, shells[query.side])
    entry["answers"] |= {flag: reason.strip() for flag, reason in reasons.items() if reason.strip()}
    words = proposal_words(query, shells[query.side])
    content |= {
        "parent_sha256": current.seal.sha256,
        "book_sha256": load_book().sha256,
        "sheet_build": "accepted",
        "entries": [entry if one["side"] == query.side else one for one in content["entries"]],
        "replies": [{"query": str(query.id), "says": _("Accepted: {words}.").format(words=words)[:500]}],
    }
    return json.dumps(content, ensure_ascii=False, separators=(",", ":")).encode()
