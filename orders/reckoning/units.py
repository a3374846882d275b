"""To millimetres and back, exactly, at the edge and nowhere else."""

from fractions import Fraction
from math import isfinite
from numbers import Rational

from .errors import OutOfRange
from .ranges import refuse_unless_within

#: Millimetres in one of each unit that a bare number may be in. The inch is 25.4 mm exactly [NIST811].
MM_PER: dict[str, Fraction] = {"mm": Fraction(1), "cm": Fraction(10), "in": Fraction(254, 10)}

INCHES_PER_FOOT = 12


def decimal_text(value: Fraction, places: int = 1) -> str:
    """A value to so many decimals, half up, without trailing zeros: "419.1", "394".

    >>> decimal_text(Fraction(4191, 10))
    '419.1'
    """
    if not isinstance(value, Rational) or isinstance(value, bool):
        raise OutOfRange("value", value, "an exact number")
    refuse_unless_within(0, 9, places=places)
    scale = 10**places
    scaled = _half_up(abs(value.numerator) * scale, value.denominator)
    whole, part = divmod(scaled, scale)
    sign = "-" if value < 0 and scaled else ""
    decimals = str(part).rjust(places, "0").rstrip("0") if places else ""
    return f"{sign}{whole}.{decimals}" if decimals else f"{sign}{whole}"


def inches_text(mm: float | Fraction, parts: int = 16) -> str:
    """A length in inches to the nearest 1/16, as a tape shows it: "16 1/2", "7/8", "0".

    Parameters
    ----------
    mm : float or Fraction
        [mm] Halves between two marks go up, away from zero.
    parts : int
        Marks to the inch. [unitless]

    >>> inches_text(419.1)
    '16 1/2'
    """
    if isinstance(mm, bool) or not (isinstance(mm, Rational) or (isinstance(mm, float) and isfinite(mm))):
        raise OutOfRange("mm", mm, "a number")
    refuse_unless_within(1, 1024, parts=parts)
    exact, inch = Fraction(mm), MM_PER["in"]
    marks = _half_up(abs(exact.numerator) * inch.denominator * parts, exact.denominator * inch.numerator)
    whole, rest = divmod(marks, parts)
    fraction = str(Fraction(rest, parts)) if rest else ""
    sign = "-" if exact < 0 and marks else ""
    return sign + (f"{whole} {fraction}" if whole and fraction else fraction or str(whole))


def _half_up(upper: int, lower: int) -> int:
    """The whole number nearest to a quotient that isn't negative; a half goes up. Whole numbers are several times
    faster than fractions."""
    return (2 * upper + lower) // (2 * lower)
