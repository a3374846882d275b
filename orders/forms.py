"""Forms of the workshop's pages."""

from django import forms
from django.utils.translation import gettext_lazy as _

from orders.models import Revision
from orders.reckoning.entry import FIELDS
from orders.wording import NOT_ANSWERS


class QueryForm(forms.Form):
    """A question about one entry of one shell of one revision, or about a photo of it."""

    side = forms.CharField(max_length=5)
    field = forms.CharField(max_length=80)
    text = forms.CharField(
        min_length=3,
        max_length=500,
        label=_("Your question"),
        error_messages={
            "required": _("Write what you want to know."),
            "min_length": _("Write what you want to know, in a few words."),
            "max_length": _("Keep it under 500 characters; it is read on a phone."),
        },
    )

    def __init__(self, revision: Revision, *args, **kwargs) -> None:
        super().__init__(*args, **kwargs)
        self.revision = revision

    def clean(self) -> dict:
        """Refuses a shell or an entry that the revision doesn't have."""
        asked = self.cleaned_data
        sides = {entry["side"] for entry in self.revision.entries}
        if asked.get("side") not in sides or not self.has_field(asked.get("field", "")):
            self.add_error(None, _("This order has no such entry. Go back and ask from the order's page."))
        return asked

    def has_field(self, field: str) -> bool:
        """Whether a query may be about this: a field of the entry, or a photo that the revision's seal names."""
        if field.startswith("photo:"):
            return field.removeprefix("photo:") in {photo["sha256"] for photo in self.revision.photos}
        return field in FIELDS and field not in NOT_ANSWERS
