"""The catalogue's page: the form's sections and rows as they are shown, and a check tried on an entry."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from django.utils.translation import gettext as _
from django.utils.translation import gettext_noop as noop

from orders import access
from orders.catalogue_editor import (
    CHECK,
    COMMON,
    REST,
    SECTIONS,
    TABLES,
    Flat,
    Typed,
    Wrong,
    check_of,
    is_count,
    rows_of,
)
from orders.check_trial import Trial, try_check
from orders.lookups import with_current
from orders.reckoning.shape import EntryError
from orders.rulebook.flag import LEVELS, PLACES
from orders.rulebook.givens import BookError
from project.models import Member

SAMPLE_ORDERS = 8
LEVEL_NAMES = sorted(LEVELS, key=("stop", "explain", "note").index)


@dataclass(frozen=True)
class Box:
    """One field of the form as it is shown."""

    path: str
    label: str
    unit: str
    kind: str
    value: str
    says: str
    choices: list[str]
    help: str = ""

    @property
    def id(self) -> str:
        """An id that a label can point to."""
        return self.path.replace(".", "-")


@dataclass(frozen=True)
class Row:
    """One row of a table: its number, its boxes and, for a check, what the form carries along."""

    number: int
    boxes: list[Box]
    rest: str = ""


@dataclass(frozen=True)
class Table:
    """A table of options, or the checks."""

    key: str
    name: str
    heads: list[str]
    rows: list[Row]
    says: str


TABLE_NAMES = {key: name for key, name, _columns in TABLES} | {"checks": noop("Your own checks")}


def box(typed: Typed, path: str, flat: Mapping[str, str], wrong: Wrong | None) -> Box:
    """One field with its text and, where it is the one that is wrong, why."""
    choices = {"level": LEVEL_NAMES, "place": sorted(PLACES)}.get(typed.kind, [])
    mine = wrong is not None and (wrong.path == path or wrong.path.startswith(f"{path}."))
    return Box(
        path=path,
        label=_(typed.label),
        unit=_(typed.unit) if typed.unit else "",
        kind=typed.kind,
        value=flat.get(path, ""),
        says=says_of(wrong, path) if wrong and mine else "",
        choices=choices,
        help=_(typed.help).format(common=common_words(path)) if typed.help else "",
    )


def common_words(path: str) -> str:
    """The common profile's numbers, to start from."""
    return " ".join(f"{number:g}" for number in COMMON.get(path, []))


def says_of(wrong: Wrong, path: str = "") -> str:
    """What is wrong, or of a list with the number's own."""
    says = wrong.says[:1].upper() + wrong.says[1:]
    within = wrong.path.removeprefix(f"{path}.") if path else ""
    if path in COMMON and within.isdigit():
        return _("Number {count}: {says}").format(count=int(within) + 1, says=wrong.says)
    return says


def sections(flat: Flat, wrong: Wrong | None) -> list[tuple[str, list[Box]]]:
    """The single figures in their sections."""
    return [(_(name), [box(typed, typed.path, flat, wrong) for typed in fields]) for name, fields in SECTIONS]


def tables(flat: Flat, wrong: Wrong | None) -> list[Table]:
    """The tables of options."""
    return [table(key, _(name), columns, flat, wrong) for key, name, columns in TABLES]


def checks_table(flat: Flat, wrong: Wrong | None) -> Table:
    """The workshop's own checks."""
    return table("checks", _(TABLE_NAMES["checks"]), CHECK, flat, wrong)


def table(key: str, name: str, columns: tuple[Typed, ...], flat: Flat, wrong: Wrong | None) -> Table:
    """One table. What is wrong with a whole row or table stands above it."""
    known = {f"{key}.{n}.{typed.path}" for n in rows_of(flat, key) for typed in columns}
    above = (
        wrong
        and wrong.path.split(".")[0] == key
        and not any(wrong.path == path or wrong.path.startswith(f"{path}.") for path in known)
    )
    return Table(
        key=key,
        name=name,
        heads=[f"{_(typed.label)}, {typed.unit}" if typed.unit else _(typed.label) for typed in columns],
        rows=[
            Row(
                n,
                [box(typed, f"{key}.{n}.{typed.path}", flat, wrong) for typed in columns],
                flat.get(f"{key}.{n}.{REST}", ""),
            )
            for n in rows_of(flat, key)
        ],
        says=f"{wrong.path}: {says_of(wrong)}" if wrong and above else "",
    )


def placed(flat: Flat, wrong: Wrong) -> bool:
    """Whether what is wrong has a field or a table to stand at."""
    part = wrong.path.split(".")[0]
    return part in {"checks", *(key for key, _name, _columns in TABLES)} or wrong.path in flat


def places(paths: Iterable[str]) -> list[str]:
    """Where on the form these paths are, in its words: a single figure by its name, of a table the row."""
    return list(dict.fromkeys(filter(None, map(place, paths))))


def place(path: str) -> str:
    """One place on the form: “Straps: Width”, “Walls 2”, “Your own checks 1”; empty for what it doesn't have."""
    part, _dot, rest = path.partition(".")
    row = rest.partition(".")[0]
    if part in TABLE_NAMES and is_count(row):
        return f"{_(TABLE_NAMES[part])} {int(row) + 1}"
    named = (
        f"{_(name)}: {_(typed.label)}" for name, fields in SECTIONS for typed in fields if typed.path == path
    )
    return next(named, "")


def sample_entries(member: Member, content: Mapping) -> list[tuple[str, str, dict]]:
    """What a check can be tried on: a plain shell, and the shells of the newest orders. Key, name, entry."""
    newest = with_current(access.orders_of(member).order_by("-moved_at"))[:SAMPLE_ORDERS]
    entries = [("plain", _("a plain shell"), plain_entry(content))]
    for order in newest:
        for entry in order.now[0].entries:
            name = f"{order.person.reference}, {_(entry['side'])}"
            entries.append((f"{order.id}:{entry['side']}", name, entry))
    return entries


def plain_entry(content: Mapping) -> dict:
    """The plain case with the first of each option: 400 mm taken, a girth of 380 mm."""
    lists = {"wall": "walls", "rear": "rears", "top": "tops", "colour": "colours", "finish": "finishes"}
    return {
        "schema": "shankline-entry-1",
        "reference": "plain",
        "side": "left",
        "units": "mm",
        "level": "transfemoral",
        "other_leg": "sound",
        "construction": "bare",
        "taken": "standing",
        "footwear": "low",
        "length": ["400"],
        "girth": ["380", "380"],
        "girth_from": "sound_limb",
        "knee": {"named": "single_axis", "pivots_seen": "one", "control": "mechanical"},
        "foot": {"profile": "low", "ankle": "solid"},
        "shell": {key: content[listed][0]["key"] for key, listed in lists.items()},
    }


@dataclass(frozen=True)
class Tried:
    """What came of trying a check. `says` is for the person."""

    number: int
    says: str
    seen: dict[str, str]


def tried(flat: Flat, number: int, entry: Mapping, content: Mapping) -> Tried:
    """A check as it is typed, on an entry. Raises Wrong."""
    before = f"checks.{number}"
    try:
        trial = try_check(check_of(flat, before), entry, content)
    except BookError as error:
        raise Wrong(f"{before}.{error.part}".rstrip("."), error.says, error.place) from None
    except EntryError as error:
        raise Wrong("", f"{error.field}: {error.says}") from None
    return Tried(number, trial_words(trial), trial.seen)


def trial_words(trial: Trial) -> str:
    """What a trial came to."""
    if trial.holds is None:
        return _("It keeps quiet: something that it looks up isn't known here.")
    if trial.flag is None:
        return _("It has nothing to say here.")
    return _("It says: {says} {do}").format(says=trial.flag.says, do=trial.flag.do)
