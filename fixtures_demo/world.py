"""The demo's own world: two clinics, two workshops, a dozen people known by a reference and initials. All invented."""

from dataclasses import dataclass

NORTHFELL, SALTMARSH = "Northfell Mobile Limb Clinic", "Saltmarsh Limb Service"
TARN_STREET, QUAYSIDE = "Tarn Street Moulding Room", "Quayside Forming"

CLINICS = {
    NORTHFELL: {"telephone": "01632 960 147", "out_of_hours": "01632 960 148, ask for the limb desk"},
    SALTMARSH: {"telephone": "01632 960 231", "out_of_hours": "01632 960 232"},
}
WORKSHOPS = {TARN_STREET: "tarn-street-moulding-room", QUAYSIDE: "quayside-forming"}
PASSWORD = "four hills and a tarn"

# (mail address, name, initials, role, organisation)
MEMBERS = [
    ("clinician@northfell.example", "K. R.", "K. R.", "clinician", NORTHFELL),
    ("lead@northfell.example", "E. W.", "E. W.", "lead", NORTHFELL),
    ("clinician@saltmarsh.example", "D. F.", "D. F.", "clinician", SALTMARSH),
    ("workshop@tarnstreet.example", "J. T.", "J. T.", "fabricator", TARN_STREET),
    ("workshop@quayside.example", "M. O.", "M. O.", "fabricator", QUAYSIDE),
]
SENDER = {NORTHFELL: "clinician@northfell.example", SALTMARSH: "clinician@saltmarsh.example"}
MAKER = {TARN_STREET: "workshop@tarnstreet.example", QUAYSIDE: "workshop@quayside.example"}

# Visits still to come: (clinic, reference, initials, days from today, hour)
PLANNED = [
    (NORTHFELL, "NF-0152", "S. B.", 0, 15),
    (NORTHFELL, "NF-0153", "P. N.", 1, 9),
    (SALTMARSH, "SM-0034", "U. C.", 1, 11),
]

# Component cards: (clinic, kind, name, whether its maker allows a shell, what it holds by the sheet's keys)
CARDS = [
    (
        NORTHFELL,
        "knee",
        "Charged knee, several pins",
        "yes",
        {
            "knee.named": "polycentric",
            "knee.control": "microprocessor",
            "knee.hardware_length": "108 mm",
            "knee.max_flexion_deg": "135",
            "service_points": [
                {"what": "charging port", "side": "rear", "below_apex": "75 mm", "stays_open": True}
            ],
        },
    ),
    (
        NORTHFELL,
        "knee",
        "Knee with an open frame",
        "no",
        {"knee.named": "polycentric", "knee.control": "fluid", "knee.hardware_length": "131 mm"},
    ),
    (
        NORTHFELL,
        "foot",
        "High foot with a damper",
        "unknown",
        {
            "foot.profile": "high",
            "foot.ankle": "jointed",
            "foot.hardware_above_rim": "3 in",
            "foot.dorsiflexion_deg": "10",
            "foot.plantarflexion_deg": "15",
        },
    ),
]


@dataclass(frozen=True)
class Query:
    """The workshop asks; `reply` is what the clinic says with the entry (a file in entries/) that it then sends."""

    field: str
    text: str
    reply: str = ""
    entry: str = ""


@dataclass(frozen=True)
class DemoOrder:
    """An order of the demo: whose, from which entries (files in entries/), to whom, due in how many days, and what
    became of it.
    """

    clinic: str
    reference: str
    initials: str
    workshop: str
    entries: tuple[str, ...]
    days_left: int
    photos: tuple[str, ...] = ()
    by_paper_mm: float = 0  # the length in the photo from the side, measured there by a sheet of A4
    queries: tuple[Query, ...] = ()
    rival: str = ""
    seen: bool = False  # the workshop has opened it as first sent, as it has before it asks or confirms
    confirmed: bool = False
    cancelled: bool = False
    handout: bool = False
    stages: int = 0  # so many stages are done; from the first on it is in making
    off_mm: tuple[float, ...] = ()  # how far length, girth and both straps came out; with them it is made
    accepted: str = ""  # why a miss was accepted
    shipped: tuple[str, str] = ()  # carrier and number


VIEWS = ("front", "side", "knee", "foot")
ORDERS = [
    DemoOrder(
        NORTHFELL,
        "NF-0144",
        "T. E.",
        TARN_STREET,
        ("plain",),
        10,
        photos=("front", "side"),
        by_paper_mm=431,
        seen=True,
    ),
    DemoOrder(
        NORTHFELL,
        "NF-0139",
        "G. V.",
        TARN_STREET,
        ("polycentric",),
        4,
        photos=VIEWS,
        queries=(
            Query(
                "knee.hardware_length", "The near photo shows a second clamp. Is 10.8 cm down to that one?"
            ),
        ),
    ),
    DemoOrder(
        NORTHFELL,
        "NF-0147",
        "L. H.",
        TARN_STREET,
        ("high-foot-first",),
        6,
        photos=VIEWS,
        queries=(
            Query(
                "foot.hardware_above_rim",
                "Is 3 1/2 in taken from the rim? The photo looks lower.",
                "It was from the shoe’s collar. From the rim it is 3 in.",
                "high-foot",
            ),
        ),
    ),
    DemoOrder(SALTMARSH, "SM-0032", "R. P.", QUAYSIDE, ("no-room-at-tarn-street",), 7, photos=VIEWS),
    DemoOrder(
        SALTMARSH, "SM-0029", "C. A.", QUAYSIDE, ("heavy-wear",), 5, photos=("front", "side"), confirmed=True
    ),
    DemoOrder(
        NORTHFELL,
        "NF-0141",
        "H. S.",
        TARN_STREET,
        ("both-left", "both-right"),
        7,
        photos=("front", "side"),
        confirmed=True,
        handout=True,
    ),
    DemoOrder(SALTMARSH, "SM-0027", "B. N.", QUAYSIDE, ("knee-disarticulation",), 9, photos=VIEWS),
    DemoOrder(NORTHFELL, "NF-0136", "W. D.", TARN_STREET, ("charged-knee",), 3, photos=VIEWS, confirmed=True),
    DemoOrder(
        NORTHFELL, "NF-0132", "F. Y.", TARN_STREET, ("boots",), 12, photos=("front", "side"), seen=True
    ),
    DemoOrder(
        NORTHFELL, "NF-0150", "I. M.", TARN_STREET, ("moving-part",), 8, photos=("front", "side", "foot")
    ),
    DemoOrder(
        SALTMARSH, "SM-0024", "A. K.", TARN_STREET, ("extension-stop",), 2, photos=("side", "knee"), seen=True
    ),
    DemoOrder(NORTHFELL, "NF-0154", "O. J.", TARN_STREET, ("child",), 14, photos=("front", "side")),
    DemoOrder(
        NORTHFELL,
        "NF-0151",
        "D. V.",
        TARN_STREET,
        ("two-versions",),
        11,
        rival="two-versions-again",
        seen=True,
    ),
    DemoOrder(SALTMARSH, "SM-0035", "V. L.", QUAYSIDE, ("heavy-wear",), 20, seen=True, cancelled=True),
    DemoOrder(
        NORTHFELL,
        "NF-0128",
        "Y. B.",
        TARN_STREET,
        ("plain",),
        6,
        photos=("front", "side"),
        confirmed=True,
        stages=2,
    ),
    DemoOrder(
        SALTMARSH,
        "SM-0021",
        "E. G.",
        QUAYSIDE,
        ("heavy-wear",),
        6,
        photos=("side",),
        confirmed=True,
        stages=4,
        off_mm=(-1, 2, 1, 5),
        accepted="The lower strap sits 5 mm high, clear of everything; agreed by telephone.",
    ),
    DemoOrder(
        NORTHFELL,
        "NF-0125",
        "Z. P.",
        TARN_STREET,
        ("polycentric",),
        4,
        photos=VIEWS,
        confirmed=True,
        stages=4,
        off_mm=(-1, 1.5, 0, -1),
        shipped=("Hill Road Carriers", "HRC 20417"),
    ),
]
