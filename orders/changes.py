"""What differs between two revisions of one order: answer by answer, figure by figure."""

from collections.abc import Container
from dataclasses import dataclass
from itertools import chain

from django.utils.translation import gettext as _

from orders.figure_rows import SHOWN, Shown, changed_values
from orders.rulebook.told import flags_in_words
from orders.wording import answers, words_of

FIGURES = {shown.key: shown for shown in SHOWN if "." not in shown.key}  # the others are answers already


@dataclass(frozen=True)
class Shell:
    """One shell of one revision: what was entered, what was reckoned, with which catalogue."""

    entry: dict
    result: dict
    catalogue: dict

    @property
    def side(self) -> str:
        """left or right."""
        return self.entry["side"]


@dataclass(frozen=True)
class Change:
    """One thing that differs, in words; "" where it wasn't there at all. `side` is the shell's, where there are two."""

    label: str
    was: str
    now: str
    side: str = ""


def shells_of(revision) -> list[Shell]:
    """The shells of a stored revision."""
    return [Shell(entry, result, revision.catalogue.content) for entry, result in revision.shells]


def changes(before: list[Shell], after: list[Shell]) -> list[Change]:
    """What differs from `before` to `after`, shell by shell, answers first."""
    two = max(len(before), len(after)) > 1
    pairs = paired(before, after)
    return list(chain.from_iterable(shell_changes(was, now, two) for was, now in pairs))


def paired(before: list[Shell], after: list[Shell]) -> list[tuple[Shell | None, Shell | None]]:
    """Which shell took the place of which: the one on the same side, or the only one whose side was corrected."""
    if len(before) == len(after) == 1:
        return [(before[0], after[0])]
    was = {shell.side: shell for shell in before}
    now = {shell.side: shell for shell in after}
    return [(was.get(side), now.get(side)) for side in sorted(was.keys() | now.keys())]


def shell_changes(was: Shell | None, now: Shell | None, two: bool) -> list[Change]:
    """What differs for one shell; one that came or went is one change."""
    if was is None or now is None:
        return [came_or_went(was, now)]
    side = _(now.side) if two else ""
    answered = answer_changes(was, now)
    figures = figure_changes(was, now, {label for label, *_words in answered})
    found = [*answered, *figures, *reason_changes(was, now)]
    return [Change(label, before, after, side) for label, before, after in found]


def came_or_went(was: Shell | None, now: Shell | None) -> Change:
    """A shell that only one of the revisions has."""
    side = (was or now).side
    return Change(
        _("Shell, {side}").format(side=_(side)),
        _("ordered") if was else _("not ordered"),
        _("ordered") if now else _("not ordered"),
        _(side),
    )


def answer_changes(was: Shell, now: Shell) -> list[tuple[str, str, str]]:
    """Fields of the entry that were answered otherwise."""
    before = {answer.path: answer for answer in answers(was.entry, was.catalogue)}
    after = {answer.path: answer for answer in answers(now.entry, now.catalogue)}
    missing = words_of("", None, "mm", {})
    found = []
    for path in dict.fromkeys([*after, *before]):
        old, new = before.get(path), after.get(path)
        old_words, new_words = old.words if old else missing, new.words if new else missing
        if old_words != new_words:
            found.append(((new or old).label, old_words, new_words))
    return found


def figure_changes(was: Shell, now: Shell, taken: Container[str]) -> list[tuple[str, str, str]]:
    """Figures that read otherwise, with their unit; one whose name is taken is told with its place."""
    changed = changed_values((was.entry, was.result), (now.entry, now.result))
    return [
        (figure_label(shown, taken), *(with_unit(text, shown.unit) for text in changed[key]))
        for key, shown in FIGURES.items()
        if key in changed
    ]


def figure_label(shown: Shown, taken: Container[str]) -> str:
    """What a figure is called beside other names."""
    label = _(shown.label)
    return f"{label}, {_(shown.place)}" if label in taken and shown.place else label


def with_unit(text: str, unit: str) -> str:
    """A number with its unit, or that it isn't known."""
    return f"{text} {unit}".strip() if text else _("not known")


def reason_changes(was: Shell, now: Shell) -> list[tuple[str, str, str]]:
    """Reasons that were given, withdrawn or written anew, named by the flag they answer."""
    before, after = was.entry.get("answers") or {}, now.entry.get("answers") or {}
    flags = flags_by_id(was.result) | flags_by_id(now.result)
    none = _("no reason")
    return [
        (reason_label(flags.get(key, key)), quoted(before.get(key), none), quoted(after.get(key), none))
        for key in dict.fromkeys([*after, *before])
        if before.get(key) != after.get(key)
    ]


def flags_by_id(result: dict) -> dict[str, str]:
    """What each flag of a result says, in the reader's language, by its id."""
    ids = [flag["id"] for flag in result["flags"]]
    return dict(zip(ids, flags_in_words(result), strict=True))


def reason_label(flag_says: str) -> str:
    """What a reason is called: after the flag that it answers."""
    return _("Reason for: {flag}").format(flag=flag_says)


def quoted(text: str | None, otherwise: str) -> str:
    """Somebody's own words, in quotation marks."""
    return f"“{text}”" if text else otherwise
