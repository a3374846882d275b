"""The knee: what is seen on it before what it is called, and how far it reaches down."""

from capture.sheet_fields.field import KNEE, NOT_ASKED, Choice, Field, _

_POWERED = '(knee_control == "microprocessor" || knee_control == "powered")'
_NOT_ONE_PIN = '(knee_pivots_seen == "several" || knee_pivots_seen == "unsure")'
_HARDWARE = (
    f'{_NOT_ONE_PIN} || knee_named == "polycentric" || (knee_control != "" && knee_control != "mechanical")'
)

FIELDS = (
    Field(
        "knee.pivots_seen",
        KNEE,
        "choice",
        _("Pins on one side"),
        _("knee"),
        "knee.pivots_seen",
        where=_("Look at the knee from the side. Count the pins it turns on."),
        easy_mistake=_("Counting screws. A pin turns when the knee bends."),
        choices=(
            Choice("one", _("One pin")),
            Choice("several", _("Several pins")),
            Choice("unsure", _("Can't tell")),
        ),
    ),
    Field(
        "knee.named",
        KNEE,
        "choice",
        _("What it is called"),
        _("knee's kind"),
        "knee.named",
        where=_("The kind that its papers or its maker name."),
        choices=(
            Choice("single_axis", _("Single axis"), _("one pin")),
            Choice("polycentric", _("Polycentric"), _("several pins")),
        ),
        asked_when=_NOT_ONE_PIN,
        starts_at="single_axis",
    ),
    Field(
        "knee.control",
        KNEE,
        "choice",
        _("What controls it"),
        _("knee's control"),
        "knee.control",
        where=_("A cylinder, a charging port or a light tells."),
        choices=(
            Choice("mechanical", _("Mechanical"), _("springs, friction or a lock")),
            Choice("fluid", _("Fluid"), _("air or oil in a cylinder")),
            Choice("microprocessor", _("Microprocessor"), _("it is charged")),
            Choice("powered", _("Powered"), _("a motor moves it")),
        ),
        asked_when=NOT_ASKED,
        starts_at="mechanical",
    ),
    Field(
        "knee.hardware_length",
        KNEE,
        "reading",
        _("Hardware length"),
        _("hardware length"),
        "knee.hardware_length",
        posture=_("Knee straight."),
        where=_("Apex dot down to the first place where a strap may grip."),
        easy_mistake=_("Stopping at the last pin. The housing goes on."),
        quantity="hardware_length",
        asked_when=_HARDWARE,
        open_when=_HARDWARE,
    ),
    Field(
        "service_points",
        KNEE,
        "nothing",
        _("What must stay reachable?"),
        _("what stays reachable"),
        "",
        where=_("Charging port, button, light, vent, valve or screw."),
        easy_mistake=_("A port is missed first at night."),
        choices=(
            Choice("nothing", _("Nothing must stay reachable")),
            Choice("something", _("Something must"), _("say what, as the reason, before sending")),
        ),
        asked_when=_POWERED,
        open_when=_POWERED,
    ),
    Field(
        "knee.width",
        KNEE,
        "reading",
        _("Knee width"),
        _("knee width"),
        "",
        where=_("The widest of the knee below the apex, from side to side."),
        asked_when=NOT_ASKED,
        required=False,
    ),
    Field(
        "knee.depth",
        KNEE,
        "reading",
        _("Knee depth"),
        _("knee depth"),
        "",
        where=_("The deepest of the knee below the apex, from front to rear."),
        asked_when=NOT_ASKED,
        required=False,
    ),
    Field(
        "knee.label",
        KNEE,
        "text",
        _("Written on the knee"),
        _("name of the knee"),
        "",
        where=_("The name or number on it, for the workshop."),
        asked_when=NOT_ASKED,
        required=False,
    ),
)
