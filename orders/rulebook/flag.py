"""A flag: what the checks say about an entry."""

from dataclasses import dataclass, field

# Stops first: the order in which a person should see them.
LEVELS = ("stop", "explain", "note")

# The places on the figure that a flag may stand at.
_PLACE_WORDS = """apex top_edge knee knee_front knee_rear upper_strap between_straps lower_strap girth shell
length gap bottom_edge rim rear_end rear_trim foot ankle_axis shoe moving_part service other_leg none"""
PLACES = frozenset(_PLACE_WORDS.split())


@dataclass(frozen=True)
class Flag:
    """One finding.

    Attributes
    ----------
    id : str
        Never reused: people look it up.
    level : str
        One of `LEVELS`.
    fields : tuple of str
        Dotted paths of the entry's fields it is about.
    at : str
        One of `PLACES`; for a stop the edge it is about.
    says, do : str
        What is wrong, with the numbers seen; and what to do.
    offer : dict or None
        A way out: ``{"field", "value"}``.
    told : dict or None
        ``says`` and ``do`` as lists of kept sentences (told.py); None for a flag of a reading, which no sent entry has.
    """

    id: str
    level: str
    fields: tuple[str, ...]
    at: str
    says: str
    do: str
    offer: dict | None = None
    told: dict | None = field(default=None, compare=False)

    def to_json(self) -> dict:
        """The flag as the result holds it."""
        return {key: value for key, value in vars(self).items() if key != "told"} | {
            "fields": list(self.fields)
        }


def in_order(flags: list[Flag]) -> list[Flag]:
    """Stops, then explains, then notes; within a level as found."""
    return sorted(flags, key=lambda flag: LEVELS.index(flag.level))
