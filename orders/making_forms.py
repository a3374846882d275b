"""Forms of making: the promised day."""

from datetime import date

from django import forms
from django.utils.translation import gettext_lazy as _


class ConfirmForm(forms.Form):
    """The day on which the workshop promises that the order leaves it. Whether that can be, the move says."""

    promised_for = forms.DateField(
        label=_("Leaves us on"),
        widget=forms.DateInput(format="%Y-%m-%d", attrs={"type": "date", "class": "input"}),
        input_formats=["%Y-%m-%d"],
        error_messages={
            "required": _("Say on which day it leaves you."),
            "invalid": _("This is no day. Write it as 2026-12-05."),
        },
    )

    def __init__(self, *args, earliest: date, **kwargs) -> None:
        super().__init__(*args, label_suffix="", initial={"promised_for": earliest}, **kwargs)
        self.fields["promised_for"].widget.attrs["min"] = earliest.isoformat()
