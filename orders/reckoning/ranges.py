"""What a number must be before a function of the core works with it. What isn't is refused by its name."""

from math import isfinite
from numbers import Real

from .constants import LARGEST, SMALLEST
from .errors import OutOfRange


def refuse_unless_positive(**values: object) -> None:
    """Each named value a plain number above 0: from 1e-6 to 1e6, so that squares neither vanish nor overflow.

    Raises
    ------
    OutOfRange
        With the first name whose value is none: of another type, not a number, infinite, too small or large.
    """
    for name, value in values.items():
        if not (_is_number(value) and SMALLEST <= value <= LARGEST):
            raise OutOfRange(name, value, "a number above 0")


def refuse_unless_within(least: float, most: float, **values: object) -> None:
    """Each named value a plain number from `least` to `most`, ends included; refused as above."""
    for name, value in values.items():
        if not (_is_number(value) and least <= value <= most):
            raise OutOfRange(name, value, f"a number from {least:g} to {most:g}")


def refuse_unless_finite(**values: object) -> None:
    """Each named value a plain number, of either sign, whose size is at most 1e6; refused as above."""
    refuse_unless_within(-LARGEST, LARGEST, **values)


def _is_number(value: object) -> bool:
    """A real number and no boolean; NaN and the infinities aren't."""
    if type(value) is float or type(value) is int:
        return True if type(value) is int else isfinite(value)
    return isinstance(value, Real) and not isinstance(value, bool) and isfinite(value)
