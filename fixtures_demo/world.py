"""The demo's own world: two clinics, two workshops, and a few people known by a reference and initials. All invented."""

from dataclasses import dataclass

CLINICS = {
    "Northfell Mobile Limb Clinic": {
        "telephone": "01632 960 147",
        "out_of_hours": "01632 960 148, ask for the limb desk",
    },
    "Saltmarsh Limb Service": {"telephone": "01632 960 231", "out_of_hours": "01632 960 232"},
}
WORKSHOPS = {
    "Tarn Street Moulding Room": "tarn-street-moulding-room",
    "Quayside Forming": "quayside-forming",
}
PASSWORD = "four hills and a tarn"

# (mail address, name, initials, role, organisation)
MEMBERS = [
    ("clinician@northfell.example", "K. R.", "K. R.", "clinician", "Northfell Mobile Limb Clinic"),
    ("lead@northfell.example", "E. W.", "E. W.", "lead", "Northfell Mobile Limb Clinic"),
    ("clinician@saltmarsh.example", "D. F.", "D. F.", "clinician", "Saltmarsh Limb Service"),
    ("workshop@tarnstreet.example", "J. T.", "J. T.", "fabricator", "Tarn Street Moulding Room"),
    ("workshop@quayside.example", "M. O.", "M. O.", "fabricator", "Quayside Forming"),
]

# Visits still to come: (clinic's clinician, reference, initials, days from today, hour)
PLANNED = [
    ("clinician@northfell.example", "NF-0152", "S. B.", 0, 15),
    ("clinician@northfell.example", "NF-0153", "P. N.", 1, 9),
    ("clinician@saltmarsh.example", "SM-0034", "U. C.", 1, 11),
]


@dataclass(frozen=True)
class DemoOrder:
    """An order of the demo: whose, from which entry (a file in entries/), to whom, due in how many days."""

    reference: str
    initials: str
    by: str
    workshop: str
    entry: str
    days_left: int
    confirmed_by: str = ""


ORDERS = [
    DemoOrder("NF-0144", "T. E.", "clinician@northfell.example", "Tarn Street Moulding Room", "plain", 10),
    DemoOrder(
        "NF-0139", "G. V.", "clinician@northfell.example", "Tarn Street Moulding Room", "polycentric", 4
    ),
    DemoOrder(
        "NF-0147",
        "L. H.",
        "clinician@northfell.example",
        "Tarn Street Moulding Room",
        "high-foot",
        6,
    ),
    DemoOrder(
        "SM-0032", "R. P.", "clinician@saltmarsh.example", "Quayside Forming", "no-room-at-tarn-street", 7
    ),
]
