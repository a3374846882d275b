"""Entries made at random from a seed, limits that are met exactly among them."""
# ruff: noqa: E501

import random
from fractions import Fraction

from orders.rulebook.book import load_book
from tests.orders.entries import catalogue

# The second with a shape of its own, made up.
PROFILE = {
    "girth_shares": [0.97, 0.96, 0.95, 0.95, 0.97, 0.99, 1, *(round(0.98 - 0.03 * n, 2) for n in range(12))],
    "depth_over_breadth": [round(1.2 - 0.01 * n, 2) for n in range(19)],
}
TARN, QUAYSIDE = catalogue(), catalogue("quayside-forming") | {"profile": PROFILE}

# What lies on a limit for one check or another, in mm as typed.
_LENGTHS_TEXT = """119.9999 120 700 700.0001 400 381 420.6875 280 560 240 212.7 279.9999 350 300 499.05 213 394 349
408 412.7 393.7"""
_LENGTHS = _LENGTHS_TEXT.split()
_GIRTHS_TEXT = "119.9999 760.0001 120 760 380 385 270 500 230 540 269.9999 388 260 450 420 209 640 371"
_GIRTHS = _GIRTHS_TEXT.split()
_GAPS_TEXT = "12.7 19.05 25.4 13 9.7643 15 25.4001 12.6999 6.7643 6.764 30 0"
_GAPS = _GAPS_TEXT.split()

_EXPLAINS = [check["id"] for check in load_book().checks if check["level"] == "explain"]


def _sometimes(dice: random.Random, share: float, value):
    return value() if dice.random() < share else None


class _Maker:
    def __init__(self, dice: random.Random):
        self.dice = dice
        self.units = dice.choice(["mm", "mm", "cm", "in"])

    def typed(self, low: float, high: float, limits: list[str] = ()) -> str:
        """A measurement as typed: on a limit, plain, in inches with a fraction, with the wrong unit, or wrong."""
        dice, way = self.dice, self.dice.random()
        if limits and way < 0.35:
            return f"{dice.choice(limits)} mm"
        if 0.35 <= way < 0.36:
            return dice.choice(["4oo", "", "1,234", "12 13", "-5", "٣٩٤", "39.4", "0"])
        value = Fraction(dice.randint(int(low * 10), int(high * 10)), 10)
        if way < 0.55:
            sixteenths = round(value / Fraction(254, 10) * 16)
            whole, part = divmod(sixteenths, 16)
            return f"{whole} {part}/16 in" if part else f"{whole} in"
        if way < 0.7:
            return f"{float(value / 10):.4g}".replace(".", ",") + " cm"
        bare = value if self.units == "mm" else value / (10 if self.units == "cm" else Fraction(254, 10))
        return f"{round(float(bare), 3):g}"

    def maybe(self, share: float, low: float, high: float, limits: list[str] = ()):
        return _sometimes(self.dice, share, lambda: self.typed(low, high, limits))

    def knee(self) -> dict:
        pick = self.dice.choice
        return {
            "named": pick(["single_axis", "polycentric"]),
            "pivots_seen": pick(["one", "several", "unsure", None]),
            "control": pick(["mechanical", "mechanical", "fluid", "microprocessor", "powered"]),
            "hardware_length": self.maybe(0.6, 40, 260, ["184.5", "214.5", "171", "387"]),
            "width": self.maybe(0.3, 40, 120),
            "depth": self.maybe(0.3, 0, 90),
            "stop_projection": self.maybe(0.2, 10, 60, ["32", "31.4"]),
            "stop_below_apex": self.maybe(0.2, 0, 40, ["18", "0", "28"]),
            "thigh_side_below_apex": self.maybe(0.15, 0, 30, ["0"]),
            "thigh_side_width": self.maybe(0.15, 60, 140),
            "max_flexion_deg": self.degrees(0.2, 60, 179),
            "label": None,
        }

    def pivots(self) -> dict:
        """Four places anywhere near a knee's: some bend as far as they should, some lock, some can't turn."""

        def place(forward: tuple[int, int], above: tuple[int, int]) -> dict:
            return {
                "forward": f"{self.dice.randint(*forward)} mm",
                "below_apex": self.dice.choice([f"{-self.dice.randint(*above)} mm"] * 9 + ["x"]),
            }

        low, high = (-40, 10), (15, 70)
        return {
            "lower_front": place((5, 25), low),
            "lower_rear": place((-35, 0), low),
            "upper_front": place((-10, 40), high),
            "upper_rear": place((-40, 0), high),
        }

    def foot(self) -> dict:
        pick = self.dice.choice
        return {
            "profile": pick(["low", "low", "high"]),
            "ankle": pick(["solid", "spring", "jointed", "wide"]),
            "hardware_above_rim": self.maybe(0.5, 20, 160, ["20", "26.22", "76.2"]),
            "rim_depth": self.maybe(0.2, 60, 130, ["80", "100"]),
            "axis_above_rim": _sometimes(
                self.dice, 0.3, lambda: self.dice.choice(["0", "-20", "−12 mm", "15", "-x"])
            ),
            "width": self.maybe(0.2, 30, 90),
            "depth": self.maybe(0.2, 0, 90),
            "dorsiflexion_deg": self.degrees(0.3, 0, 60),
            "plantarflexion_deg": self.degrees(0.3, 0, 60),
            "label": None,
        }

    def degrees(self, share: float, low: int, high: int):
        dice = self.dice
        ways = (
            lambda: dice.randint(low, high),
            lambda: f"{dice.randint(low, high)}",
            lambda: dice.choice(["30", "12,5", "x", "99"]),
        )
        return _sometimes(dice, share, lambda: dice.choice(ways)())

    def shell(self, workshop: dict) -> dict:
        pick = self.dice.choice
        if self.dice.random() < 0.03:
            workshop = pick([TARN, QUAYSIDE])
        lists = {"wall": "walls", "rear": "rears", "top": "tops", "colour": "colours", "finish": "finishes"}
        chosen = {kind: pick(workshop[name])["key"] for kind, name in lists.items()}
        return chosen | {"buckle_side": pick(["outer", "inner", None])} | self.straps()

    def straps(self) -> dict:
        """Places for some of the straps; a dice of its own leaves what else is thrown as it was."""
        dice = random.Random(hash(self.dice.getstate()))
        places = {key: f"{dice.uniform(5, 150):.1f} mm" for key in ("upper_strap", "lower_strap")}
        return {key: place for key, place in places.items() if dice.random() < 0.2}

    def beside(self) -> dict:
        dice, pick = self.dice, self.dice.choice
        route = {
            "apex_to_floor": self.maybe(0.9, 440, 620, ["510", "490", "500"]),
            "rim_to_floor": self.maybe(0.9, 80, 120, ["100", "50", "180", "49.9999", "180.0001"]),
        }
        part = {
            "from_above_rim": self.maybe(0.9, 0, 380, ["60.5", "352.5", "0"]),
            "to_above_rim": self.maybe(0.9, 20, 400, ["60.5", "380"]),
            "travel": self.maybe(0.7, 0, 15, ["6"]),
            "rotation_deg": self.degrees(0.2, 0, 90),
        }
        person = {
            "k_level": pick(["K0", "K2", "K4", None]),
            "heavy_wear": pick([True, False, None]),
            "needs_help_to_don": pick([True, False]),
            "age_band": pick(["adult", "adult", "child"]),
            "stature": self.maybe(0.5, 1450, 1950),
            "body_mass_kg": self.degrees(0.5, 40, 120),
            "sex": pick(["male", "female", None]),
        }
        extras = [
            {"above_floor": self.typed(90, 400), "girth": self.typed(200, 420, ["171", "437"])}
            for _ in range(dice.randint(0, 3))
        ]
        points = [
            {"what": pick(["port", "button", "valve"]), "side": pick(["front", "rear", "inner", "outer"]),
             "below_apex": self.maybe(0.9, 0, 420, ["18", "387", "239.94", "0"]), "stays_open": pick([True, True, False])}
            for _ in range(dice.randint(0, 3))
        ]  # fmt: skip
        return {
            "second_route": _sometimes(dice, 0.4, lambda: route),
            "moving_part": _sometimes(dice, 0.15, lambda: part),
            "person": _sometimes(dice, 0.5, lambda: person),
            "extra_girths": _sometimes(dice, 0.3, lambda: extras),
            "service_points": _sometimes(dice, 0.4, lambda: points),
            "rear_room": _sometimes(dice, 0.3, lambda: {"thigh_behind_axis": self.maybe(0.9, 30, 90, ["60"]), "axis_below_apex": self.maybe(0.4, 10, 60)}),
            "pivots": _sometimes(dice, 0.15, self.pivots),
            "pylon": _sometimes(dice, 0.3, lambda: {"behind_front_at_apex": self.maybe(0.6, 30, 70), "lean_forward_deg": self.degrees(0.5, 0, 6), "lean_outward_deg": self.degrees(0.5, 0, 6)}),
        }  # fmt: skip

    def entry(self, workshop: dict) -> dict:
        pick, dice = self.dice.choice, self.dice
        return {
            "schema": "shankline-entry-1",
            "reference": "NF-0001",
            "side": pick(["left", "right"]),
            "units": self.units,
            "level": pick(["transfemoral", "transfemoral", "knee_disarticulation"]),
            "other_leg": pick(["sound", "sound", "below_knee", "above_knee", "none"]),
            "construction": pick(["bare"] * 8 + ["foam_on", "exoskeletal"]),
            "taken": pick(["standing"] * 6 + ["seated", "off_body"]),
            "footwear": pick(["low", "low", "boot"]),
            "collar_above_rim": self.maybe(0.3, 0, 60, ["15", "12.7", "19.05"]),
            "length": [self.typed(230, 560, _LENGTHS) for _ in range(dice.randint(1, 3))],
            "gap": self.maybe(0.5, 3, 40, _GAPS),
            "girth": [self.typed(220, 560, _GIRTHS) for _ in range(dice.randint(1, 3))],
            "girth_from": pick(["sound_limb", "sound_limb", "chosen"]),
            "girth_over": pick(["skin", "skin", "stocking", None]),
            "swelling": pick(["none", "some", "hot_or_sudden", None, None]),
            "knee": self.knee(),
            "foot": self.foot(),
            "shell": self.shell(workshop),
            "answers": _sometimes(dice, 0.3, lambda: dict.fromkeys(_EXPLAINS, "talked over")),
            **self.beside(),
        }


def random_besides(count: int, seed: int) -> list[dict | None]:
    """What stands beside so many entries, by a seed of its own; limits that are met exactly among it."""
    dice = random.Random(f"beside {seed}")
    return [_beside_at_random(dice) if dice.random() < 0.4 else None for _ in range(count)]


def _beside_at_random(dice: random.Random) -> dict:
    measures = {
        "photo_length": (300, 500),
        "photo_hardware_length": (60, 220),
        "photo_hardware_above_rim": (20, 140),
    }
    beside: dict = {
        f"photo_{view}": dice.choice([True, True, False]) for view in ("front", "side", "knee", "foot")
    }
    for name, (low, high) in measures.items():
        if dice.random() < 0.4:
            beside |= {
                f"{name}_mm": float(dice.randint(low, high)),
                f"{name}_U_mm": dice.choice([0.0, 4.5, 8.0]),
            }
    return beside | {
        "earlier_days": dice.choice([None, 0, 1, 29, 30, 31, 400]),
        "is_remake": dice.choice([True, False, False]),
        "last_length_mm": dice.choice([None, 377.0, 387.0, 397.0]),
        "last_girth_mm": dice.choice([None, 365.0, 380.0, 395.0]),
    }


def random_entries(count: int, seed: int) -> list[tuple[dict, dict]]:
    """So many (entry, catalogue)."""
    dice = random.Random(seed)
    workshops = [dice.choice([TARN, TARN, QUAYSIDE]) for _ in range(count)]
    return [(_Maker(dice).entry(workshop), workshop) for workshop in workshops]
