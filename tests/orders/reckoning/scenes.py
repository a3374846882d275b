"""Scenes of known geometry: a pinhole camera before a plane with a sheet and two marks, by numpy and Pillow alone."""

from dataclasses import dataclass, field

import numpy as np
from PIL import Image, ImageDraw

PX_PER_MM = 4  # of the flat drawing that the photo is taken of


def turned(x_deg: float, y_deg: float, z_deg: float = 0.0) -> np.ndarray:
    """Rotation about z, then y, then x. (3, 3)"""
    x, y, z = np.radians([x_deg, y_deg, z_deg])
    about_x = [[1, 0, 0], [0, np.cos(x), -np.sin(x)], [0, np.sin(x), np.cos(x)]]
    about_y = [[np.cos(y), 0, np.sin(y)], [0, 1, 0], [-np.sin(y), 0, np.cos(y)]]
    about_z = [[np.cos(z), -np.sin(z), 0], [np.sin(z), np.cos(z), 0], [0, 0, 1]]
    return np.array(about_x) @ np.array(about_y) @ np.array(about_z)


@dataclass(frozen=True)
class Scene:
    """A plane seen by a camera. Places on the plane are in mm, x to the right and y down in the picture.

    Attributes
    ----------
    size : (2,) int
        The photo's width and height. [px]
    focal : float
        [px]
    rotation, corner : (3, 3), (3,) float
        How the plane is turned, and where its (0, 0) lies before the camera. [mm]
    """

    size: tuple[int, int] = (1500, 2000)
    focal: float = 1400.0
    rotation: np.ndarray = field(default_factory=lambda: turned(0, 0))
    corner: tuple[float, float, float] = (-150.0, -300.0, 1000.0)

    @property
    def homography(self) -> np.ndarray:
        """From (x, y, 1) on the plane to the photo. (3, 3)"""
        camera = np.array([[self.focal, 0, self.size[0] / 2], [0, self.focal, self.size[1] / 2], [0, 0, 1]])
        return camera @ np.column_stack([self.rotation[:, 0], self.rotation[:, 1], self.corner])

    @property
    def camera(self) -> np.ndarray:
        """The camera on the plane's own axes. [mm]"""
        return -self.rotation.T @ np.array(self.corner)

    def seen(self, x: float, y: float, nearer_mm: float = 0.0) -> list[float]:
        """Where a place is seen that lies so far off the plane, toward the camera. [px]"""
        toward = np.sign(self.camera[2]) * nearer_mm
        before = self.rotation @ np.array([x, y, toward]) + np.array(self.corner)
        return [self.focal * before[n] / before[2] + self.size[n] / 2 for n in (0, 1)]

    def photo(self, sheet: tuple[float, float, float, float], marks: list[tuple[float, float]]) -> np.ndarray:
        """A grey photo of a white sheet (x, y, width, height) and black marks on a dark plane."""
        flat = Image.new("L", (600 * PX_PER_MM, 800 * PX_PER_MM), 70)
        pen = ImageDraw.Draw(flat)
        x, y, wide, high = (PX_PER_MM * part for part in sheet)
        pen.rectangle((x, y, x + wide - 1, y + high - 1), fill=255)
        for mark_x, mark_y in marks:
            middle = np.array([mark_x, mark_y]) * PX_PER_MM
            pen.ellipse((*(middle - 6 * PX_PER_MM), *(middle + 6 * PX_PER_MM)), fill=0)
        back = np.linalg.inv(self.homography)
        to_flat = np.diag([PX_PER_MM, PX_PER_MM, 1]) @ back
        taken = flat.transform(
            self.size,
            Image.Transform.PERSPECTIVE,
            list((to_flat / to_flat[2, 2]).ravel()[:8]),
            Image.Resampling.BILINEAR,
            fillcolor=70,
        )
        return np.asarray(taken)
