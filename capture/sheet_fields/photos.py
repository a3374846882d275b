"""The photos: wanted views with the marks and the tape in them. They stand beside the entry, in the seal."""

from capture.sheet_fields.field import PHOTOS, Field, _

FIELDS = (
    Field(
        "photos",
        PHOTOS,
        "photos",
        _("Photos"),
        _("photos"),
        "side",
        where=_("Each view with its dots; from the side the tape along them too. Only the leg, no face."),
        easy_mistake=_("Tilting the phone. Hold it level with the knee."),
        required=False,
        home="seal",
    ),
)
