"""A length read from a photo with a sheet of known size in the plane of what is measured.

Four corners of a rectangle fix how its plane lies in the picture; two more places then give a length in that plane.
It is a check on the tape and never stands in its place: what lies before or behind the sheet's plane reads wrong.
Twin: static/js/geometry/homography.js.

    corners 0 1 2 3, one way round      3 ------ 2        x along 0-1, y along 0-3, z out of the sheet
    of the sheet, begun anywhere        |        |
                                        0 ------ 1
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot, sqrt

from .constants import (
    PHOTO_COVERAGE_FACTOR,
    PHOTO_FOCAL_SHARE,
    PHOTO_LENS_SHARE,
    PHOTO_MOST_U_MM,
    PHOTO_PLACED_SHARE,
    PHOTO_PLANE_U_MM,
    PHOTO_SIDES_RATIO_MOST,
    SHEETS_MM,
)
from .ranges import refuse_unless_finite, refuse_unless_positive
from .uncertainty import combined_standard_uncertainty

Point = Sequence[float]
Matrix = tuple[tuple[float, float, float], ...]


class Unmeasurable(ValueError):
    """Places in a photo that give no length.

    Attributes
    ----------
    why : str
        "crossed" (the corners don't go round a sheet, or it is tiny), "shape" (they can't be that sheet's), "beyond"
        (an end lies past the plane's horizon), "unsure" (the length would be known too badly to say anything).
    """

    def __init__(self, why: str) -> None:
        super().__init__(why)
        self.why = why


@dataclass(frozen=True)
class PhotoLength:
    """A length in the sheet's plane, and its expanded uncertainty, 95 in 100. [mm]"""

    mm: float
    U_mm: float


def photo_length(sheet: str, size: Point, corners: Sequence[Point], ends: Sequence[Point]) -> PhotoLength:
    """The length between two places of a photo, by a sheet in their plane.

    Parameters
    ----------
    sheet : str
        One of SHEETS_MM.
    size : (2,) float
        The photo's width and height. [px] Above zero.
    corners : (4, 2) float
        The sheet's corners, one way round. [px] from the photo's upper left.
    ends : (2, 2) float
        [px]

    Raises
    ------
    Unmeasurable
    OutOfRange
        For a size that isn't above zero, a place that is no number.

    Notes
    -----
    Homography by four points [HECKBERT]; uncertainty by [GUM] 5.1 from: where each place was put, the sheet's sides,
    the lens, and how far the ends lie off the sheet's plane, all together and each by itself. An object dz nearer
    than the plane reads Z / (Z - dz) times too large, with Z the camera's distance from the plane [PINHOLE].
    """
    refuse_unless_positive(width=size[0], height=size[1])
    places, u_px = [[float(x), float(y)] for x, y in (*corners, *ends)], PHOTO_PLACED_SHARE * max(size)
    refuse_unless_finite(
        **{f"place_{n}_{axis}": place[axis] for n, place in enumerate(places) for axis in (0, 1)}
    )
    if not _goes_round(places[:4], u_px):
        raise Unmeasurable("crossed")
    sides = _sides_in_order(sheet, size, places[:4])
    mm = _length_mm(places, sides)
    u_mm = combined_standard_uncertainty(
        [
            *_from_places(places, sides, u_px),
            *_from_sides(places, sides, SHEETS_MM[sheet][2] / sqrt(3)),
            *_from_plane(places, sides, size),
            PHOTO_LENS_SHARE * mm,
        ]
    )
    if PHOTO_COVERAGE_FACTOR * u_mm > PHOTO_MOST_U_MM:
        raise Unmeasurable("unsure")
    return PhotoLength(mm, PHOTO_COVERAGE_FACTOR * u_mm)


def plane_to_photo(corners: Sequence[Point], sides_mm: Point) -> Matrix:
    """The homography that takes places on a sheet to its picture.

    Parameters
    ----------
    corners : (4, 2) float
        Where (0, 0), (w, 0), (w, h) and (0, h) are seen. [px] Strictly convex.
    sides_mm : (2,) float
        w and h. [mm]

    Returns
    -------
    (3, 3) float
        For (x, y, 1) in mm; its last number is 1.

    Notes
    -----
    Unit square to quadrilateral, in closed form [HECKBERT].
    """
    (x0, y0), (x1, y1), (x2, y2), (x3, y3) = corners
    ax, ay, bx, by = x1 - x2, y1 - y2, x3 - x2, y3 - y2
    sx, sy = x0 - x1 + x2 - x3, y0 - y1 + y2 - y3
    spread = ax * by - bx * ay
    g, h = (sx * by - bx * sy) / spread, (ax * sy - sx * ay) / spread
    w_mm, h_mm = sides_mm
    return (
        ((x1 - x0 + g * x1) / w_mm, (x3 - x0 + h * x3) / h_mm, x0),
        ((y1 - y0 + g * y1) / w_mm, (y3 - y0 + h * y3) / h_mm, y0),
        (g / w_mm, h / h_mm, 1.0),
    )


def on_plane_mm(homography: Matrix, place: Point) -> tuple[float, float]:
    """Where on the sheet's plane a place of the photo lies. [mm] Raises Unmeasurable past the horizon.

    Notes
    -----
    The adjugate is the inverse but for a factor, which a homography doesn't mind. With the last number 1 and corner
    0 in sight, what is in sight has the sign of the determinant.
    """
    (a, b, c), (d, e, f), (g, h, _one) = homography
    x, y = place
    px = (e - f * h) * x + (c * h - b) * y + b * f - c * e
    py = (f * g - d) * x + (a - c * g) * y + c * d - a * f
    scale = (d * h - e * g) * x + (b * g - a * h) * y + a * e - b * d
    determinant = a * (e - f * h) - b * (d - f * g) + c * (d * h - e * g)
    if not scale * determinant > 0:
        raise Unmeasurable("beyond")
    return px / scale, py / scale


def camera_mm(
    homography: Matrix, size: Point, focal_share: float = PHOTO_FOCAL_SHARE
) -> tuple[float, float, float]:
    """Where the camera is: x and y on the sheet's plane, and its distance from it. [mm]

    `focal_share` is its focal length, as a share of the photo's longer side.

    Notes
    -----
    By default an ordinary phone's lens, looking at the middle of the photo [DEFAULTS]; a photo that was zoomed into
    or cut is taken from further off than this says, and is better known. The columns of K⁻¹H are two axes of the
    sheet and its corner, seen from the camera [PINHOLE].
    """
    across, down, corner = _seen_from_camera(homography, size, focal_share)
    length = sqrt(_size(across) * _size(down))
    across, down, corner = ([part / length for part in one] for one in (across, down, corner))
    out = (
        across[1] * down[2] - across[2] * down[1],
        across[2] * down[0] - across[0] * down[2],
        across[0] * down[1] - across[1] * down[0],
    )
    return -_dot(across, corner), -_dot(down, corner), abs(_dot(out, corner))


def _seen_from_camera(
    homography: Matrix, size: Point, focal_share: float = PHOTO_FOCAL_SHARE
) -> list[list[float]]:
    focal, (width, height) = focal_share * max(size), size
    columns = zip(*homography, strict=True)
    return [[(x - width / 2 * w) / focal, (y - height / 2 * w) / focal, w] for x, y, w in columns]


def _goes_round(corners: Sequence[Point], u_px: float) -> bool:
    """Whether four corners make a convex figure, and still do wherever in their uncertainty they really are."""
    clear = []
    for n in range(4):
        (x0, y0), (x1, y1), (x2, y2) = (corners[(n + step) % 4] for step in range(3))
        bend = (x1 - x0) * (y2 - y1) - (y1 - y0) * (x2 - x1)
        sides = hypot(x1 - x0, y1 - y0) + hypot(x2 - x1, y2 - y1)
        clear.append(0 if abs(bend) <= 4 * u_px * sides else bend)
    return min(clear) > 0 or max(clear) < 0


def _sides_in_order(sheet: str, size: Point, corners: Sequence[Point]) -> tuple[float, float]:
    """The sheet's sides, that from corner 0 to 1 first. [mm] Raises Unmeasurable.

    The axes of the sheet are equally long as seen from the camera: of the two ways round, the one where they nearly
    are. A lens other than the ordinary one upsets that by less than the ratio of the sides.
    """
    short, long, _tolerance = SHEETS_MM[sheet]
    found = []
    for sides in ((short, long), (long, short)):
        across, down, _corner = _seen_from_camera(plane_to_photo(corners, sides), size)
        ratio = _size(across) / _size(down)
        found.append((max(ratio, 1 / ratio), sides))
    ratio, sides = min(found)
    if ratio > PHOTO_SIDES_RATIO_MOST:
        raise Unmeasurable("shape")
    return sides


def _length_mm(places: Sequence[Point], sides: Point) -> float:
    homography = plane_to_photo(places[:4], sides)
    (x0, y0), (x1, y1) = (on_plane_mm(homography, place) for place in places[4:])
    return hypot(x1 - x0, y1 - y0)


def _from_places(places: Sequence[Point], sides: Point, u_px: float) -> list[float]:
    """What each coordinate's own uncertainty does to the length, by moving it that far both ways. [mm]"""
    parts = []
    for n in range(len(places)):
        for axis in (0, 1):
            moved = []
            for step in (-u_px, u_px):
                other = [list(place) for place in places]
                other[n][axis] += step
                moved.append(_length_mm(other, sides))
            parts.append(abs(moved[1] - moved[0]) / 2)
    return parts


def _from_sides(places: Sequence[Point], sides: Point, u_mm: float) -> list[float]:
    """What the sheet's two sides' uncertainty does to the length. [mm]"""
    parts = []
    for axis in (0, 1):
        moved = []
        for step in (-u_mm, u_mm):
            other = list(sides)
            other[axis] += step
            moved.append(_length_mm(places, other))
        parts.append(abs(moved[1] - moved[0]) / 2)
    return parts


def _from_plane(places: Sequence[Point], sides: Point, size: Point) -> list[float]:
    """What lying off the sheet's plane does to the length: both ends together, and each by itself. [mm]"""
    homography = plane_to_photo(places[:4], sides)
    x, y, z = camera_mm(homography, size)
    (x0, y0), (x1, y1) = (on_plane_mm(homography, place) for place in places[4:])
    length = hypot(x1 - x0, y1 - y0)
    if length == 0:
        return [0.0]
    along = (x1 - x0) / length, (y1 - y0) / length
    shifts = [((px - x) * along[0] + (py - y) * along[1]) / z for px, py in ((x0, y0), (x1, y1))]
    return [abs(part) * PHOTO_PLANE_U_MM for part in (shifts[1] - shifts[0], *shifts)]


def _dot(a: Sequence[float], b: Sequence[float]) -> float:
    return sum(p * q for p, q in zip(a, b, strict=True))


def _size(a: Sequence[float]) -> float:
    return sqrt(_dot(a, a))
