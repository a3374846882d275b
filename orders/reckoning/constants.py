"""Every fixed number of the core, with its unit and the key of its source (see sources.py)."""

#: Ordinary range of a typed quantity, ends included. [mm] [DEFAULTS], from the lengths and girths of [ANSUR2]
ORDINARY_MM: dict[str, tuple[int, int]] = {
    "length": (240, 560),
    "girth": (230, 560),
    "hardware_length": (40, 260),
    "hardware_above_rim": (20, 220),
    "rim_to_floor": (50, 180),
    "apex_to_floor": (300, 680),
    "below_apex": (0, 680),
}

#: t of the bottom edge and of the widest place; t = 1 at the apex, 0 at the ankle's centre. [unitless] [CC0MESH]
BOTTOM_EDGE_T = 0.10
WIDEST_T = 0.70

#: Section square to the leg at t: girth as a share of the widest, depth over breadth. [unitless] [CC0MESH]
#: At the widest place depth over breadth is the default 1.07 (the mesh: 1.068).
GIRTH_PROFILE: tuple[tuple[float, float, float], ...] = (
    (0.050, 0.6837, 1.402),
    (0.100, 0.6019, 1.357),
    (0.150, 0.5853, 1.309),
    (0.200, 0.6029, 1.255),
    (0.250, 0.6280, 1.224),
    (0.300, 0.6616, 1.204),
    (0.350, 0.7035, 1.200),
    (0.400, 0.7454, 1.202),
    (0.450, 0.8034, 1.176),
    (0.500, 0.8693, 1.150),
    (0.550, 0.9271, 1.103),
    (0.600, 0.9695, 1.078),
    (0.650, 0.9921, 1.063),
    (0.700, 1.0000, 1.070),
    (0.750, 0.9889, 1.066),
    (0.800, 0.9667, 1.080),
    (0.850, 0.9491, 1.149),
    (0.900, 0.9536, 1.226),
    (0.950, 0.9683, 1.242),
    (1.000, 0.9790, 1.236),
)

#: Front line of the shell: (share of the finished length below the top, mm in front of the pylon's axis) at
#: a girth of FRONT_LINE_GIRTH_MM, with which it scales. [DEFAULTS]
FRONT_LINE: tuple[tuple[float, float], ...] = (
    (0.00, 46.0),
    (0.06, 48.5),
    (0.14, 49.5),
    (0.30, 48.0),
    (0.50, 44.5),
    (0.70, 41.0),
    (0.85, 40.0),
    (0.95, 41.5),
    (1.00, 43.0),
)
FRONT_LINE_GIRTH_MM = 385.0

#: The knee's axis in front of the pylon's; negative is behind. [mm] [DEFAULTS]
KNEE_AXIS_X_MM = -6.0

# The shell's edges on its outside, as the figure draws them. [DEFAULTS]
TOP_LEVEL_TO_X_MM = 40.0  #: the top edge is level from the front back to here, before the pylon's axis [mm]
TOP_LEVEL_LEAST_MM = 8.0  #: and at least so far back from the front [mm]
RELIEF_EASED_MM = 6.0  #: to either side of the middle third's ends the front edge falls to its relief [mm]
SWEEP_MM = 90.0  #: from the rear's end down to where the side edge runs straight [mm]
SWEEP_MOST_SHARE = 0.72  #: of what lies below the rear's end, the most that the sweep takes [unitless]
#: From the level top (0, 0) back and down to the rear trim (1, 1): shares of the way. [unitless]
TOP_LINE: tuple[tuple[float, float], ...] = (
    (0.0, 0.0),
    (0.11, 0.022),
    (0.235, 0.115),
    (0.39, 0.32),
    (0.61, 0.615),
    (0.82, 0.855),
    (0.955, 0.965),
    (1.0, 1.0),
)
#: From the rear's end (0, 0) forward and down to the side edge (1, 1): shares of the way. [unitless]
SWEEP_LINE: tuple[tuple[float, float], ...] = (
    (0.0, 0.0),
    (0.08, 0.035),
    (0.43, 0.19),
    (0.7, 0.34),
    (0.87, 0.48),
    (0.96, 0.72),
    (1.0, 1.0),
)

#: The straps' slots, as the figure draws them: before the pylon's axis, longer than the strap is wide by, and wide.
#: The strap's own place is measured; where round the section its slots are cut is the workshop's. [mm] [DEFAULTS]
SLOT_X_MM = 24.0
SLOT_LONGER_MM = 7.0
SLOT_WIDE_MM = 4.0
#: On a narrow shell a slot comes no nearer to front or rear than this share of the half depth. [DEFAULTS]
SLOT_LEAST_COSINE = 0.8

#: Sheets that may lie beside the leg in a photo: short side, long side, how far either may be off. [mm] [SHEETS]
SHEETS_MM: dict[str, tuple[float, float, float]] = {
    "a4": (210.0, 297.0, 2.0),
    "letter": (215.9, 279.4, 2.0),
    "card": (53.98, 85.60, 0.13),
}
# Standard uncertainties of a length in a photo, and what is taken of its camera. [DEFAULTS]
PHOTO_PLACED_SHARE = 0.001  #: where a place was put, either way: of the photo's longer side [unitless]
PHOTO_PLANE_U_MM = 10.0  #: how far off the sheet's plane the ends lie, together and each by itself [mm]
PHOTO_LENS_SHARE = 0.003  #: what the lens bends, of the length [unitless]
#: Focal length of an ordinary phone's main lens, of the photo's longer side: about 24 mm where a film frame's
#: 4:3 cut is 34.6 mm long (from memory). [unitless] [DEFAULTS]
PHOTO_FOCAL_SHARE = 0.7
#: A sheet's sides, seen the right way round, come out in their own ratio within this. [unitless] [DEFAULTS]:
#: below it lie lenses from 0.6 to 1.1 of the longer side, tilted by 40 degrees
PHOTO_SIDES_RATIO_MOST = 1.25
#: A length known worse than this says nothing about the tape that the eye doesn't see. [mm] [DEFAULTS]
PHOTO_MOST_U_MM = 40.0
PHOTO_COVERAGE_FACTOR = 2  #: U = 2 u, about 95 % [unitless] [GUM]

#: A number of the core lies between these, or isn't above 0 at all: a thousandth of what the finest tape shows,
#: and a kilometre in mm. Squares and cubes of both are plain doubles. [DEFAULTS]
SMALLEST = 1e-6
LARGEST = 1e6

# A finished shell measured on the workshop's table: where its edge is, and reading the rule or tape once; standard
# uncertainties. Common practice, no source. [mm] [DEFAULTS]
AS_MADE_EDGE_MM = 0.5
AS_MADE_READ_MM = 0.5
AS_MADE_GIRTH_MM = 1.0  #: where the widest place is, and again for reading the tape round it
#: Two readings of a finished shell further apart than this ask for a third. [mm] [DEFAULTS]
AS_MADE_APART_MM = 2.0
#: A finished shell whose mass is further than this from the reckoned one is worth a look. [unitless] [DEFAULTS]
MASS_APART_SHARE = 0.15
