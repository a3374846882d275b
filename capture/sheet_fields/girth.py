"""Girth of the calf, and where it was taken."""

from capture.sheet_fields.field import GIRTH, NOT_ASKED, Choice, Field, _

FIELDS = (
    Field(
        "girth_from",
        GIRTH,
        "choice",
        _("Where the girth comes from"),
        _("girth from"),
        "girth_from",
        where=_("The other calf where it is sound; else a size chosen with the person."),
        choices=(
            Choice("sound_limb", _("The sound calf")),
            Choice("chosen", _("Chosen with the person")),
        ),
        asked_when='other_leg != "" && other_leg != "sound"',
        starts_at="sound_limb",
    ),
    Field(
        "girth",
        GIRTH,
        "readings",
        _("Girth"),
        _("girth"),
        "girth",
        posture=_("Standing evenly, calf at ease."),
        where=_("Round the other calf at its widest, tape level."),
        easy_mistake=_("Pulling tight. The tape only touches."),
        caution=_("Hot, red or suddenly swollen? Don't measure: medical advice first."),
        quantity="girth",
    ),
    Field(
        "girth_over",
        GIRTH,
        "choice",
        _("Measured over"),
        _("measured over"),
        "girth_over",
        where=_("On the skin, or over a stocking."),
        choices=(Choice("skin", _("On the skin")), Choice("stocking", _("Over a stocking"))),
        asked_when=NOT_ASKED,
        starts_at="skin",
    ),
    Field(
        "swelling",
        GIRTH,
        "choice",
        _("Swelling of the calf"),
        _("swelling"),
        "swelling",
        where=_("As it looks and feels today."),
        caution=_("Hot, red or suddenly swollen: don't measure on. Medical advice first."),
        choices=(
            Choice("none", _("None")),
            Choice("some", _("Some, as it often is")),
            Choice("hot_or_sudden", _("Hot, red or sudden"), _("medical advice first")),
        ),
        asked_when=NOT_ASKED,
        starts_at="none",
    ),
)
