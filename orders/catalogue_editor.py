"""A workshop's catalogue on a form: as texts while it is typed, read strictly when it is saved as the next version.

The form is flat: each text under its dotted path ("walls.0.wall_mm"), so that an error finds its field by its path.
"""

import json
import re
from collections.abc import Mapping
from dataclasses import dataclass

from django.db import IntegrityError, transaction
from django.utils.translation import gettext as _
from django.utils.translation import gettext_noop as noop

from orders.models import Catalogue
from orders.reckoning.catalogue import read_catalogue
from orders.reckoning.constants import BOTTOM_EDGE_T, GIRTH_PROFILE
from orders.reckoning.shape import EntryError, read_json
from orders.rulebook.givens import BookError
from orders.rulebook.own_checks import own_checks
from project.models import Member, Organisation

FILE_MOST = 256 * 1024  # bytes; the demo's are under 2 kB
NOT_TYPED = ("schema", "key", "name")  # the workshop's own, whatever a file says


@dataclass(frozen=True)
class Typed:
    """One text of the form: its key or path, what it is called, its unit, and how it is typed."""

    path: str
    label: str
    unit: str = ""
    kind: str = "number"  # number, text, long, yes, level, place, list or numbers
    help: str = ""


SECTIONS = (
    (
        noop("Limits"),
        (
            Typed("finished_length_mm.least", noop("Finished length, least"), "mm"),
            Typed("finished_length_mm.most", noop("Finished length, most"), "mm"),
            Typed("girth_mm.least", noop("Girth, least"), "mm"),
            Typed("girth_mm.most", noop("Girth, most"), "mm"),
        ),
    ),
    (
        noop("Straps"),
        (
            Typed("strap.width_mm", noop("Width"), "mm"),
            Typed("strap.clearance_mm", noop("Clear of mechanisms"), "mm"),
            Typed("strap.usual_upper_mm", noop("Upper, below the top edge"), "mm"),
            Typed("strap.usual_lower_mm", noop("Lower, above the bottom edge"), "mm"),
            Typed("strap.least_spacing_mm", noop("Between straps, least"), "mm"),
            Typed("strap.comfortable_spacing_mm", noop("Between straps, comfortable"), "mm"),
            Typed("strap.mass_g", noop("Mass of one strap"), "g"),
        ),
    ),
    (
        noop("Clearance inside, least"),
        (
            Typed("clearance_mm.still", noop("To what stands still"), "mm"),
            Typed("clearance_mm.moving", noop("To what moves"), "mm"),
        ),
    ),
    (
        noop("Tolerances, as made"),
        (
            Typed("as_made.length_over_mm", noop("Length, over"), "mm"),
            Typed("as_made.length_under_mm", noop("Length, under"), "mm"),
            Typed("as_made.girth_mm", noop("Girth, either way"), "mm"),
            Typed("as_made.strap_place_mm", noop("Strap's place, either way"), "mm"),
        ),
    ),
    (
        noop("Trim and time"),
        (
            Typed("trim_mm", noop("Left to trim at the fitting"), "mm"),
            Typed("trim_line_marked", noop("A line is marked to trim to"), kind="yes"),
            Typed("lead_time_days", noop("Lead time, weekends counted"), noop("days")),
        ),
    ),
    (
        noop("House profile"),
        (
            Typed(
                "profile.girth_shares",
                noop("Girth, share of the widest"),
                kind="numbers",
                help=noop(
                    "19 numbers from the top edge down, the seventh 1: that is where the girth is taken. "
                    "Left empty, both: the common profile, {common}"
                ),
            ),
            Typed(
                "profile.depth_over_breadth",
                noop("Depth over breadth"),
                kind="numbers",
                help=noop("At the same 19 places. The common profile has {common}"),
            ),
        ),
    ),
)
# What the common profile has, from the top edge down.
COMMON = {
    f"profile.{name}": [row[at] for row in reversed(GIRTH_PROFILE) if row[0] >= BOTTOM_EDGE_T]
    for at, name in ((1, "girth_shares"), (2, "depth_over_breadth"))
}
KEY = Typed("key", noop("Key"), kind="text")
NAME = Typed("label", noop("Name"), kind="text")
TABLES = (
    (
        "walls",
        noop("Walls"),
        (
            KEY,
            NAME,
            Typed("wall_mm", noop("Thickness"), "mm"),
            Typed("density_kg_m3", noop("Density"), "kg/m³"),
        ),
    ),
    (
        "rears",
        noop("Rears"),
        (
            KEY,
            NAME,
            Typed("reach", noop("Reach, share of the length")),
            Typed("open_share", noop("Open share of the girth")),
        ),
    ),
    ("tops", noop("Tops"), (KEY, NAME, Typed("relief_mm", noop("Relief in front"), "mm"))),
    ("colours", noop("Colours"), (KEY, NAME)),
    ("finishes", noop("Finishes"), (KEY, NAME)),
)
CHECK = (
    Typed("id", noop("Id, beginning with own."), kind="text"),
    Typed("level", noop("Level"), kind="level"),
    Typed("at", noop("Its place on the figure"), kind="place"),
    Typed("fields", noop("Fields it is about, with commas"), kind="list"),
    Typed("when", noop("When it speaks"), kind="long"),
    Typed("says", noop("What it says"), kind="long"),
    Typed("do", noop("What to do"), kind="long"),
    Typed("source", noop("Where it is from"), kind="text"),
    Typed("needs", noop("Quantities it needs, with commas; empty for all that it looks up"), kind="list"),
)
REST = "rest"  # of a check: its offer and cases, which the form carries along as JSON
Flat = dict[str, str]


class Wrong(ValueError):
    """What can't be in a catalogue: `path` is the field, "" for the whole; `place` where in an expression, from 1."""

    def __init__(self, path: str, says: str, place: int | None = None) -> None:
        super().__init__(says)
        self.path, self.says, self.place = path, says, place


class Stale(Exception):
    """Somebody else has saved a version since: `newest`."""

    def __init__(self, newest: Catalogue) -> None:
        super().__init__(f"version {newest.version} came first")
        self.newest = newest


def newest_of(workshop: Organisation) -> Catalogue:
    """The version that counts now."""
    return workshop.catalogues.select_related("saved_by").order_by("-version").first()


def flat_of(content: Mapping) -> Flat:
    """A catalogue as the form's texts."""
    flat = {typed.path: text_of(at(content, typed.path)) for _name, fields in SECTIONS for typed in fields}
    for table, _name, columns in TABLES:
        for n, row in enumerate(content[table]):
            flat |= {f"{table}.{n}.{typed.path}": text_of(row[typed.path]) for typed in columns}
    for n, check in enumerate(content.get("checks") or []):
        flat |= {f"checks.{n}.{typed.path}": text_of(check.get(typed.path)) for typed in CHECK}
        rest = {key: check[key] for key in ("offer", "case") if check.get(key)}
        flat[f"checks.{n}.{REST}"] = json.dumps(rest) if rest else ""
    return flat


def at(content: Mapping, path: str) -> object:
    """What stands at a path of one or two steps."""
    part, _dot, name = path.partition(".")
    return (content.get(part) or {}).get(name) if name else content[part]


def text_of(value: object) -> str:
    """A value as it is typed."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else ""
    if isinstance(value, list):
        return ", ".join(str(one) for one in value)
    return f"{value:.10g}" if isinstance(value, float) else str(value)


def rows_of(flat: Mapping[str, str], table: str) -> list[int]:
    """The numbers of a table's rows, in order; a row that was taken out leaves a gap."""
    numbers = {path.split(".")[1] for path in flat if path.startswith(f"{table}.")}
    return sorted(int(number) for number in numbers if is_count(number))


def is_count(text: str) -> bool:
    """Whether a text is a row's or a version's number: plain digits, and no more than any has."""
    return text.isascii() and text.isdigit() and len(text) < 7


def renumbered(flat: Mapping[str, str]) -> Flat:
    """The form with the rows of each table counted from 0, as a catalogue counts them."""
    places = {
        (table, str(old)): str(new)
        for table in (*(table for table, _name, _columns in TABLES), "checks")
        for new, old in enumerate(rows_of(flat, table))
    }
    return {
        ".".join((parts[0], places[parts[0], parts[1]], *parts[2:]))
        if tuple(parts[:2]) in places
        else path: text
        for path, text in flat.items()
        for parts in [path.split(".")]
    }


def content_of(flat: Mapping[str, str], workshop_content: Mapping) -> dict:
    """The catalogue that the form's texts make, read strictly. `flat` is numbered from 0. Raises Wrong."""
    made: dict = {key: workshop_content[key] for key in NOT_TYPED}
    for _name, fields in SECTIONS:
        for typed in fields:
            part, _dot, name = typed.path.partition(".")
            value = value_of(typed, flat.get(typed.path, ""), typed.path)
            if name:
                made.setdefault(part, {})[name] = value
            else:
                made[part] = value
    for table, _name, columns in TABLES:
        made[table] = [row_of(flat, f"{table}.{n}", columns) for n in rows_of(flat, table)]
    made["profile"] = profile_of(made["profile"])
    made["checks"] = [check_of(flat, f"checks.{n}") for n in rows_of(flat, "checks")]
    return checked(made)


def profile_of(typed: Mapping[str, list]) -> dict | None:
    """The house profile, or None where nothing was typed. Raises Wrong for half of one."""
    if not any(typed.values()):
        return None
    for name, numbers in typed.items():
        if not numbers:
            raise Wrong(f"profile.{name}", _("is missing."))
    return dict(typed)


def row_of(flat: Mapping[str, str], before: str, columns: tuple[Typed, ...]) -> dict:
    """One row of a table."""
    return {
        typed.path: value_of(typed, flat.get(f"{before}.{typed.path}", ""), f"{before}.{typed.path}")
        for typed in columns
    }


def check_of(flat: Mapping[str, str], before: str) -> dict:
    """One check of the workshop's own, with the offer and cases that came with it."""
    check = row_of(flat, before, CHECK)
    if not check["needs"]:
        del check["needs"]
    rest = read_json(flat.get(f"{before}.{REST}") or "{}")
    return {
        **check,
        **{key: rest[key] for key in ("offer", "case") if isinstance(rest, dict) and key in rest},
    }


def value_of(typed: Typed, text: str, path: str) -> object:
    """One text as the catalogue holds it. Raises Wrong for what is no number."""
    text = text.strip()
    if typed.kind == "yes":
        return bool(text)
    if typed.kind == "list":
        return [part.strip() for part in text.split(",") if part.strip()]
    if typed.kind == "numbers":
        return [number_of(part, f"{path}.{n}") for n, part in enumerate(re.split(r"[\s,;]+", text)) if part]
    return number_of(text.replace(",", ".", 1), path) if typed.kind == "number" else text


def number_of(text: str, path: str) -> int | float:
    """A number with a decimal point. Raises Wrong."""
    if not text:
        raise Wrong(path, _("is missing."))
    try:
        number = float(text)
    except ValueError:
        raise Wrong(path, _("should be a number.")) from None
    return int(number) if number.is_integer() else number


def checked(content: object) -> dict:
    """A catalogue whose every part can be used, its checks included. Raises Wrong."""
    try:
        catalogue = read_catalogue(content)
        own_checks(catalogue["checks"])
    except EntryError as error:
        raise Wrong(error.field, error.says) from None
    except BookError as error:
        ids = [check["id"] for check in catalogue["checks"]]
        before = f"checks.{ids.index(error.entry)}" if error.entry in ids else "checks"
        raise Wrong(f"{before}.{error.part}".rstrip("."), error.says, error.place) from None
    return without_none(catalogue)


def without_none(value):
    """The catalogue as it is written: what is optional and not given is left out."""
    if isinstance(value, dict):
        return {key: without_none(part) for key, part in value.items() if part is not None}
    return [without_none(part) for part in value] if isinstance(value, list) else value


def read_file(raw: bytes) -> dict:
    """A catalogue from a file. Raises Wrong."""
    if len(raw) > FILE_MOST:
        raise Wrong(
            "", _("The file is longer than {most} kB; no catalogue is.").format(most=FILE_MOST // 1024)
        )
    try:
        content = read_json(raw.decode("utf-8-sig"))
    except (UnicodeDecodeError, EntryError):
        raise Wrong("", _("This file is no catalogue: it isn't JSON.")) from None
    try:
        return checked(content)
    except Wrong as wrong:
        where = f"{wrong.path} {wrong.says}".lstrip()
        raise Wrong("", _("This file is no catalogue that can be used: {why}").format(why=where)) from None


def differing(one: Mapping, other: Mapping) -> list[str]:
    """The paths at which two catalogues differ, as the form names them."""
    left, right = flat_of(one), flat_of(other)
    return sorted(path for path in left.keys() | right.keys() if left.get(path) != right.get(path))


def retyped(saved: Flat, flat: Flat) -> list[str]:
    """The paths at which the form says something else than what was saved; an empty row says nothing.

    A browser sends line ends of its own, and nothing at all for a box that isn't ticked.
    """

    def words(texts: Flat, path: str) -> list[str]:
        return texts.get(path, "").split()

    return sorted(path for path in saved.keys() | flat.keys() if words(saved, path) != words(flat, path))


def save(workshop: Organisation, member: Member, based_on: int, content: dict) -> Catalogue:
    """Saves the next version, made from `based_on`. Raises Stale when that isn't the newest any more."""
    newest = newest_of(workshop)
    if newest.version != based_on:
        raise Stale(newest)
    if newest.content == content:
        return newest
    try:
        with transaction.atomic():
            return Catalogue.objects.create(
                workshop=workshop, version=based_on + 1, content=content, saved_by=member
            )
    except IntegrityError:
        raise Stale(newest_of(workshop)) from None
