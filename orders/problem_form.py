"""What the person's page asks about a problem."""

import uuid

from django import forms
from django.utils.translation import gettext_lazy as _

from orders.models.problem import LONGEST
from orders.problems import SIGNS


class ProblemForm(forms.Form):
    """A sign or a few words; both where there are both."""

    sent_as = forms.UUIDField(widget=forms.HiddenInput, initial=uuid.uuid4)
    signs = forms.MultipleChoiceField(
        label=_("What is wrong?"),
        required=False,
        widget=forms.CheckboxSelectMultiple,
        choices=lambda: [(sign, _(words)) for sign, words in SIGNS.items()],
        error_messages={"invalid_choice": _("Tick what is on the list.")},
    )
    text = forms.CharField(
        label=_("In your own words"),
        required=False,
        max_length=LONGEST,
        widget=forms.Textarea(attrs={"rows": 4, "class": "input"}),
        error_messages={"max_length": _("That is too long: %(show_value)d letters. Use at most 500.")},
    )

    def clean(self) -> dict:
        """Refuses a report that says nothing."""
        given = super().clean()
        if not self.errors and not given["signs"] and not given["text"]:
            self.add_error("signs", _("Tick what is wrong, or write it down."))
        return given
