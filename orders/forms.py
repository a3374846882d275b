"""Forms of the workshop's pages."""

from collections.abc import Mapping, Sequence

from django import forms
from django.utils.translation import gettext_lazy as _

from orders.asking import Subject, choices

TEXT_LEAST, TEXT_MOST = 3, 500


class QueryForm(forms.Form):
    """The workshop's question about one entry of one shell, or about a photo."""

    revision = forms.CharField(widget=forms.HiddenInput)
    side = forms.ChoiceField(
        widget=forms.HiddenInput,
        error_messages={
            "required": _("Which shell it is about is missing. Open the question from the order's page."),
            "invalid_choice": _(
                "This order has no shell on that side. Open the question from the order's page."
            ),
        },
    )
    field = forms.ChoiceField(
        label=_("About"),
        error_messages={
            "required": _("Choose what the question is about."),
            "invalid_choice": _(
                "This shell's entry has no such answer and no such photo. Choose what to ask about."
            ),
        },
    )
    text = forms.CharField(
        label=_("Your question"),
        help_text=_("One thing at a time. Say what you see and what you expected; no names of people."),
        min_length=TEXT_LEAST,
        max_length=TEXT_MOST,
        widget=forms.Textarea(attrs={"rows": 3, "autofocus": True}),
        error_messages={
            "required": _("Write what you want to know."),
            "min_length": _("Write what you want to know, in a few words."),
            "max_length": _("Keep it under 500 characters; it is read on a phone. This is %(show_value)d."),
        },
    )

    def __init__(
        self, *args, known: Mapping[str, Sequence[Subject]], side: str, about: str, **kwargs
    ) -> None:
        """`known` is what can be asked about by side, `side` and `about` what the question was opened from."""
        super().__init__(*args, label_suffix="", **kwargs)
        self.fields["side"].choices = [(key, key) for key in known]
        self.fields["field"].choices = choices(about, known.get(side, ()))
        for name in ("field", "text"):
            self.fields[name].widget.attrs["class"] = "input"
