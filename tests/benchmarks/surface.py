"""The outline, and the surface of about 20,000 triangles through it.

Against a bare numpy loft of the same size (the same ellipses and faces, no checks, straight between the stations), and
against an open geometry library, trimesh: turning a body of as many rings and flats round its axis, and taking the same
corners and faces for a mesh and asking whether it is closed.
"""

from collections.abc import Iterator, Sequence

import numpy as np
import trimesh

from orders.reckon import reckon
from orders.reckoning import surface
from orders.reckoning.outline import Station
from orders.reckoning.surface import AROUND, RINGS, outside_surface
from tests.benchmarks.timing import Figure, ratio, typical_ms
from tests.orders.entries import PLAIN, catalogue


def outline() -> list[Station]:
    """The plain case's sections."""
    return [Station(**row) for row in reckon(PLAIN, catalogue())["stations"]]


def bare_loft(stations: Sequence[Station], rings: int, around: int) -> tuple[np.ndarray, np.ndarray]:
    """Corners and faces of a closed loft, with nothing besides."""
    below = np.array([station.below_top_mm for station in stations])
    depth = np.array([station.depth_mm for station in stations]) / 2
    breadth = np.array([station.breadth_mm for station in stations]) / 2
    centre = np.array([station.front_mm for station in stations]) - depth
    at = np.linspace(below[0], below[-1], rings)
    centre, depth, breadth = (np.interp(at, below, values) for values in (centre, depth, breadth))
    angle = np.arange(around) * (2 * np.pi / around)
    x = centre[:, None] + depth[:, None] * np.cos(angle)
    y = breadth[:, None] * np.sin(angle)
    z = np.broadcast_to(-at[:, None], x.shape)
    corners = np.stack([x, y, z], axis=-1).reshape(-1, 3)
    ends = [(centre[0], 0, -at[0]), (centre[-1], 0, -at[-1])]
    return np.vstack([corners, ends]), bare_faces(rings, around)


def bare_faces(rings: int, around: int) -> np.ndarray:
    """Two triangles to each square, and a fan at each end."""
    index = np.arange(rings * around).reshape(rings, around)
    after = np.roll(index, -1, axis=1)
    a, b, c, d = index[:-1], after[:-1], index[1:], after[1:]
    sides = np.stack([a, c, b, b, c, d], axis=-1).reshape(-1, 3)
    top, bottom = np.full(around, rings * around), np.full(around, rings * around + 1)
    return np.vstack(
        [sides, np.stack([top, index[0], after[0]], -1), np.stack([bottom, after[-1], index[-1]], -1)]
    )


def turned_line(stations: Sequence[Station], rings: int) -> np.ndarray:
    """Radius and height of a round body of about the same shape, from the axis out, down and back to it."""
    below = np.array([station.below_top_mm for station in stations])
    radius = np.array([station.girth_mm for station in stations]) / (2 * np.pi)
    at = np.linspace(below[0], below[-1], rings)
    rim = np.column_stack([np.interp(at, below, radius), -at])
    return np.vstack([[0, -at[0]], rim, [0, -at[-1]]])


def figures() -> Iterator[Figure]:
    """Yields them as they are measured."""
    stations = outline()
    mesh = outside_surface(stations)
    corners, faces = bare_loft(stations, RINGS, AROUND)
    if mesh.vertices.shape != corners.shape or mesh.faces.shape != faces.shape:
        raise AssertionError("the two lofts aren't of one size")
    print(f"  {len(mesh.faces)} triangles")

    def ours() -> None:
        for _ in range(10):
            outside_surface(stations)

    def bare() -> None:
        for _ in range(10):
            bare_loft(stations, RINGS, AROUND)

    def library() -> None:
        for _ in range(10):
            assert trimesh.Trimesh(mesh.vertices, mesh.faces, process=False).is_watertight

    line = turned_line(stations, RINGS)
    if len(trimesh.creation.revolve(line, sections=AROUND).faces) != len(mesh.faces):
        raise AssertionError("the turned body isn't of the same size")

    def turned() -> None:
        for _ in range(10):
            trimesh.creation.revolve(line, sections=AROUND)

    def anew() -> None:
        for _ in range(10):
            surface._closed_faces.cache_clear()
            outside_surface(stations)

    yield Figure("the surface, against a bare numpy loft of its size", ratio(ours, bare), "×", 2)
    yield Figure("the same, its faces made anew each time as the bare one's are", ratio(anew, bare), "×", 2)
    yield Figure("the surface, against trimesh turning a body of its size", ratio(ours, turned), "×", 1)
    yield Figure("the same, its faces made anew each time", ratio(anew, turned), "×", 1)
    yield Figure("the surface, against trimesh asking whether it is closed", ratio(ours, library), "×", 1)
    yield Figure("the surface", typical_ms(ours) / 10, "ms")
    yield Figure(
        "the plain case reckoned, outline and all", typical_ms(lambda: reckon(PLAIN, catalogue())), "ms", 30
    )
