"""Flags as the workshop reads them: numbered as on the drawing, with the clinician's reasons, or just counted."""

from collections import Counter
from dataclasses import dataclass

from django.utils.translation import gettext as _
from django.utils.translation import gettext_noop as noop

from orders.rulebook.told import flags_in_words

LEVELS = ("stop", "explain", "note")
WORDS = {"stop": noop("Stop"), "explain": noop("Explain"), "note": noop("Note")}


@dataclass(frozen=True)
class FlagShown:
    """One flag. `number` is its number on the drawing, `reason` the clinician's own words.

    What to do about it is left out: that was said to whoever held the tape.
    """

    number: int
    level: str
    word: str
    says: str
    reason: str

    @property
    def unanswered(self) -> bool:
        """Whether it wants a reason and has none: found at the office, where the phone could not know it."""
        return self.level == "explain" and not self.reason


@dataclass(frozen=True)
class FlagCount:
    """How many flags of one level an order has."""

    number: int
    level: str
    word: str


def flags_shown(entry: dict, result: dict) -> list[FlagShown]:
    """A shell's flags, in the result's order, which is the drawing's too."""
    reasons = entry.get("answers") or {}
    return [
        FlagShown(
            number=number,
            level=flag["level"],
            word=_(WORDS[flag["level"]]),
            says=says,
            reason=reasons.get(flag["id"], ""),
        )
        for number, (flag, says) in enumerate(
            zip(result["flags"], flags_in_words(result), strict=True), start=1
        )
    ]


def flag_counts(results: list[dict]) -> list[FlagCount]:
    """How many flags of each level there are in all, stops first; levels without one are left out."""
    counts = Counter(flag["level"] for result in results for flag in result["flags"])
    return [FlagCount(counts[level], level, _(WORDS[level])) for level in LEVELS if counts[level]]
