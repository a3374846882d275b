"""The demo's photos, drawn by us: a leg standing in a room, with the three marks on it. Nobody's leg, and no photograph.

Each reference gets its own room and light, so that two people's photos can be told apart.
"""

import io
import random

from PIL import Image, ImageDraw, ImageFilter

SIZE = (1200, 1600)
PX_PER_MM = 2.35
WALLS = ("#cfd6cf", "#d9d2c4", "#c8d2d8", "#d7ccc8", "#cdd0dc")
FLOORS = ("#8f8272", "#77726a", "#a08d74", "#6f7a78")
METAL, DARK_METAL, TUBE = "#aab2b4", "#7f898c", "#c4cbcc"
SHOE, SOLE, RIM, SOCKET = "#5b4a3e", "#2c2622", "#b8ac9c", "#c9bfae"
TAPE = "#f2c230"
PAPER_MM = (55.0, 60.0, 265.0, 357.0)  # a sheet of A4 upright beside the leg: left, top, right, bottom
APEX_DOT, RIM_DOT = (41.0, 0.0), 50.0  # the dots of tape: a place, and how far before the axis


class Stage:
    """A picture with its origin at the apex, x to the toes, y down, in mm."""

    def __init__(self, reference: str, view: str, close_up: tuple[float, float, float]) -> None:
        self.dice = random.Random(f"{reference} {view}")
        self.image = Image.new("RGB", SIZE, self.dice.choice(WALLS))
        self.draw = ImageDraw.Draw(self.image)
        self.x, self.y, zoom = close_up
        self.scale = PX_PER_MM * zoom
        room = random.Random(reference)
        self.wall, self.floor = room.choice(WALLS), room.choice(FLOORS)

    def at(self, point: tuple[float, float]) -> tuple[float, float]:
        """A place in mm as a pixel."""
        return SIZE[0] / 2 + (point[0] - self.x) * self.scale, SIZE[1] / 2 + (point[1] - self.y) * self.scale

    def polygon(self, points, fill: str) -> None:
        self.draw.polygon([self.at(point) for point in points], fill=fill, outline="#2a2f31", width=3)

    def box(self, left: float, top: float, right: float, bottom: float, fill: str) -> None:
        self.polygon([(left, top), (right, top), (right, bottom), (left, bottom)], fill)

    def disc(self, point: tuple[float, float], radius: float, fill: str) -> None:
        x, y = self.at(point)
        r = radius * self.scale
        self.draw.ellipse([x - r, y - r, x + r, y + r], fill=fill, outline="#2a2f31", width=3)

    def room(self, floor_y: float, shadow: tuple[float, float]) -> None:
        """Wall, floor, skirting and a shadow under the shoe, from its left to its right."""
        self.draw.rectangle([0, 0, *SIZE], fill=self.wall)
        top = self.at((0, floor_y - 40))[1]
        if top > SIZE[1]:
            return  # too near for the floor to show
        self.draw.rectangle([0, top, *SIZE], fill=self.floor)
        self.draw.rectangle([0, top - 34, SIZE[0], top], fill="#efece4")
        x0, y0 = self.at((shadow[0], floor_y - 8))
        x1, y1 = self.at((shadow[1], floor_y + 16))
        self.draw.ellipse([x0, y0, x1, y1], fill="#3f3a34")


def photo(
    reference: str,
    view: str,
    *,
    side: str = "left",
    several_pins: bool = False,
    high_foot: bool = False,
    length_mm: float = 420,
    paper: bool = False,
) -> bytes:
    """A JPEG of one wanted view: side, front, knee or foot; with `paper`, a sheet of A4 stands beside the leg.

    Raises KeyError for another view.
    """
    where = {
        "side": side_on(length_mm),
        "front": (0.0, length_mm / 2, 1.0),
        "knee": (5.0, 30.0, 2.7),
        "foot": (45.0, length_mm + 10, 2.3),
    }[view]
    stage = Stage(reference, view, where)
    floor_y = length_mm + 95
    stage.room(floor_y, (-75, 75) if view == "front" else (-90, 210))
    if view == "front":
        draw_front(stage, length_mm, high_foot)
    else:
        if paper:
            stage.box(*PAPER_MM, "#fbfbf8")
        draw_side(stage, length_mm, several_pins, high_foot)
    image = stage.image.filter(ImageFilter.GaussianBlur(1.2))
    if side == "left" and view != "front":
        image = image.transpose(Image.Transpose.FLIP_LEFT_RIGHT)
    return as_jpeg(image, stage.dice)


def side_on(length_mm: float) -> tuple[float, float, float]:
    """Where the middle of the view from the side lies, and how near it is."""
    return 20.0, length_mm / 2, 1.0


def measured_by_paper(side: str, length_mm: float) -> dict:
    """The length in the view from the side as a phone would send it: where sheet and dots lie in the picture."""
    stage = Stage("", "side", side_on(length_mm))
    left, top, right, bottom = PAPER_MM
    corners = [(left, top), (right, top), (right, bottom), (left, bottom)]
    places = [stage.at(place) for place in (*corners, APEX_DOT, (RIM_DOT, length_mm))]
    in_picture = [[round(SIZE[0] - x if side == "left" else x, 1), round(y, 1)] for x, y in places]
    return {
        "what": "length",
        "sheet": "a4",
        "size": list(SIZE),
        "corners": in_picture[:4],
        "ends": in_picture[4:],
    }


def draw_side(stage: Stage, length: float, several_pins: bool, high_foot: bool) -> None:
    """Socket, knee, pylon, foot and shoe from the outside, with the dots of tape at apex and rim."""
    stage.polygon([(-75, -220), (75, -220), (62, -110), (20, -68), (-25, -68), (-66, -110)], SOCKET)
    stage.box(-17, -70, 17, -50, DARK_METAL)
    if several_pins:
        stage.polygon([(-28, -52), (30, -52), (30, 0), (18, 30), (-20, 10)], TUBE)
        stage.polygon([(40, 0), (36, 40), (20, 84), (-20, 84), (-34, 44), (0, 20), (22, 4)], METAL)
        for pin in ((21, -26), (-17, -24), (20, 36), (-26, 48)):
            stage.disc(pin, 5, "#e8ebea")
    else:
        stage.polygon([(-22, -52), (16, -52), (20, -10), (4, 10), (-14, 4)], TUBE)
        stage.polygon(
            [(13, -17), (33, -13), (40, 0), (38, 34), (23, 74), (-21, 74), (-33, 42), (-22, 12), (4, 1)],
            METAL,
        )
        stage.disc((-6, 35), 9.5, "#e8ebea")
    stage.box(-15, 74, 15, length - 20, TUBE)
    stage.box(-20, 78, 20, 104, DARK_METAL)
    if high_foot:
        stage.polygon([(-18, length - 80), (18, length - 80), (30, length), (-30, length)], METAL)
        stage.box(-36, length - 62, -22, length + 4, DARK_METAL)
    else:
        stage.box(-18, length - 26, 18, length + 4, DARK_METAL)
    draw_shoe(stage, length)
    stage.disc(APEX_DOT, 7, TAPE)
    stage.disc((RIM_DOT, length), 7, TAPE)


def draw_shoe(stage: Stage, length: float) -> None:
    """The foot shell's rim and a laced shoe."""
    stage.polygon([(-50, length), (50, length), (66, length + 50), (-54, length + 50)], RIM)
    shoe = [(-56, 25), (-14, 45), (60, 20), (96, 42), (150, 58), (194, 78), (-68, 79)]
    stage.polygon([(x, length + y) for x, y in shoe], SHOE)
    stage.box(-70, length + 78, 196, length + 95, SOLE)


def draw_front(stage: Stage, length: float, high_foot: bool) -> None:
    """The same leg from the front."""
    stage.polygon([(-78, -220), (78, -220), (60, -100), (22, -68), (-22, -68), (-60, -100)], SOCKET)
    stage.box(-18, -70, 18, -48, DARK_METAL)
    stage.polygon([(-26, -48), (26, -48), (40, 4), (30, 80), (-30, 80), (-40, 4)], METAL)
    stage.box(-15, 80, 15, length - 20, TUBE)
    stage.box(-21, 80, 21, 104, DARK_METAL)
    stage.box(-24, length - (76 if high_foot else 26), 24, length + 4, DARK_METAL)
    stage.polygon([(-33, length), (33, length), (42, length + 60), (-42, length + 60)], RIM)
    stage.polygon([(-38, length + 30), (38, length + 30), (48, length + 84), (-48, length + 84)], SHOE)
    stage.box(-50, length + 80, 50, length + 95, SOLE)
    stage.disc((0, 2), 7, TAPE)
    stage.disc((0, length), 7, TAPE)


def as_jpeg(image: Image.Image, dice: random.Random) -> bytes:
    """The picture under uneven light, as a phone would store it."""
    shade = Image.linear_gradient("L").resize(SIZE).rotate(dice.choice((0, 180)))
    dimmed = Image.eval(image, lambda value: int(value * 0.72))
    lit = Image.composite(image, dimmed, shade)
    out = io.BytesIO()
    lit.save(out, "JPEG", quality=82)
    return out.getvalue()
