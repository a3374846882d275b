"""Our own functions in the rule book's notation. Twin: static/js/book/functions.js.

Each takes and gives doubles or booleans; none raises for any double (a result that is no number is ``nan``).
"""

import math

# Two limits that are equal on paper may differ by a few units in the last place as doubles; readings are
# typed to at most four decimals, so nothing real lies closer together than this.
TOLERANCE = 1e-6


def less(a: float, b: float) -> bool:
    """Whether a lies below b by more than 1e-6."""
    return a < b - TOLERANCE


def more(a: float, b: float) -> bool:
    """Whether a lies above b by more than 1e-6."""
    return a > b + TOLERANCE


def floor_mm(a: float) -> float:
    """Whole millimetres, rounded down; right for every sum of readings with at most four decimals."""
    return float(math.floor(a + TOLERANCE)) if math.isfinite(a) else math.nan


def up_to_half(a: float) -> float:
    """The next half at or above: 21.2 becomes 21.5, 21.5 stays."""
    return math.ceil((a - TOLERANCE) * 2.0) / 2.0 if math.isfinite(a) else math.nan


def sqrt(a: float) -> float:
    """Square root; of a negative number, no number."""
    return math.sqrt(a) if a >= 0.0 else math.nan


def sin_deg(angle_deg: float) -> float:
    """Sine of an angle in degrees."""
    return math.sin(angle_deg * (math.pi / 180.0)) if math.isfinite(angle_deg) else math.nan


def cos_deg(angle_deg: float) -> float:
    """Cosine of an angle in degrees."""
    return math.cos(angle_deg * (math.pi / 180.0)) if math.isfinite(angle_deg) else math.nan


def rise(radius_mm: float, height_mm: float, most_deg: float) -> float:
    """The most that a point of the rim rises while the foot turns from 0 to ``most_deg``. [mm]

    Parameters
    ----------
    radius_mm : float
        How far the point lies in front of the ankle's axis (behind it: turned the other way). [mm]
    height_mm : float
        How high it lies above the axis; below is negative. [mm]
    most_deg : float
        The end of the motion. [deg] 0 to 90.

    Notes
    -----
    rise(t) = r·sin t − h·(1 − cos t). For h > 0 it is largest at t = atan2(r, h), if the ankle gets so far;
    otherwise at the end. Check values: published-values 4.3 (reference tables of this project's tests).
    """
    if not (math.isfinite(radius_mm) and math.isfinite(height_mm) and math.isfinite(most_deg)):
        return math.nan
    angle = most_deg * (math.pi / 180.0)
    if height_mm > 0.0:
        angle = min(angle, math.atan2(radius_mm, height_mm))
    return radius_mm * math.sin(angle) - height_mm * (1.0 - math.cos(angle))


def rim_rise(radius_mm: float, height_mm: float, dorsiflexion_deg: float, plantarflexion_deg: float) -> float:
    """The most that the rim's front (dorsiflexion) or rear (plantarflexion) rises within the range. [mm]"""
    front = rise(radius_mm, height_mm, dorsiflexion_deg)
    rear = rise(radius_mm, height_mm, plantarflexion_deg)
    return larger(front, rear)


def larger(a: float, b: float) -> float:
    """The larger of two; no number if either is none."""
    return math.nan if math.isnan(a) or math.isnan(b) else max(a, b)


def smaller(a: float, b: float) -> float:
    """The smaller of two; no number if either is none."""
    return math.nan if math.isnan(a) or math.isnan(b) else min(a, b)


# name -> (function, what it takes, what it gives), in the type names of the rule book.
_NUMBER = "number"
FUNCTIONS = {
    "less": (less, (_NUMBER, _NUMBER), "flag"),
    "more": (more, (_NUMBER, _NUMBER), "flag"),
    "floor_mm": (floor_mm, (_NUMBER,), _NUMBER),
    "up_to_half": (up_to_half, (_NUMBER,), _NUMBER),
    "rim_rise": (rim_rise, (_NUMBER,) * 4, _NUMBER),
    "abs": (abs, (_NUMBER,), _NUMBER),
    "sqrt": (sqrt, (_NUMBER,), _NUMBER),
    "sin_deg": (sin_deg, (_NUMBER,), _NUMBER),
    "cos_deg": (cos_deg, (_NUMBER,), _NUMBER),
    "min": (smaller, (_NUMBER, _NUMBER), _NUMBER),
    "max": (larger, (_NUMBER, _NUMBER), _NUMBER),
}
