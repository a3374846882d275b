"""Forms of the workshop's pages."""

from collections.abc import Mapping, Sequence
from fractions import Fraction

from django import forms
from django.utils.translation import gettext_lazy as _

from orders.asking import Subject, choices
from orders.changes import Shell
from orders.figure_rows import digits
from orders.proposal import CannotPropose, read_proposed
from orders.reckoning.typed import understand

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

    proposed = forms.CharField(
        label=_("Propose a value (or leave empty)"),
        help_text=_("A measurement such as 22 mm, or the name of a wall, rear, top, colour or finish."),
        required=False,
        max_length=60,
        error_messages={"max_length": _("A value is at most 60 characters; write the rest in the question.")},
    )

    def __init__(
        self,
        *args,
        known: Mapping[str, Sequence[Subject]],
        shells: Sequence[Shell],
        side: str,
        about: str,
        **kwargs,
    ) -> None:
        """`known` is what can be asked about by side, `side` and `about` what the question was opened from."""
        self.shells = {shell.side: shell for shell in shells}
        super().__init__(*args, label_suffix="", **kwargs)
        self.fields["side"].choices = [(key, key) for key in known]
        self.fields["field"].choices = choices(about, known.get(side, ()))
        for name in ("field", "text", "proposed"):
            self.fields[name].widget.attrs["class"] = "input"

    def clean(self) -> dict:
        said = super().clean()
        if said.get("proposed") and {"side", "field"} <= said.keys():
            try:
                said["proposed"] = read_proposed(said["proposed"], said["field"], self.shells[said["side"]])
            except CannotPropose as cannot:
                self.add_error("proposed", str(cannot))
        return said


class TapeField(forms.CharField):
    """A length as typed; a bare number is in mm. Cleaned to a text with its unit and the length, exactly."""

    def __init__(self, *, label: str, quantity: str = "none") -> None:
        super().__init__(
            label=label,
            required=False,
            widget=forms.TextInput(
                attrs={
                    "class": "input",
                    "maxlength": 64,
                    "autocomplete": "off",
                    "size": 7,
                    "inputmode": "text",
                }
            ),
        )
        self.quantity = quantity

    def clean(self, value: object) -> tuple[str, Fraction] | None:
        """Text and length in mm, or None where nothing is typed. Raises ValidationError in the reader's own words."""
        text = super().clean(value)
        if not text:
            return None
        found = understand(text, "mm", self.quantity)
        if found.reading is None or found.mm_exact is None:
            raise forms.ValidationError(found.says)
        return (text if found.reading.unit_typed else f"{text} mm"), found.mm_exact


class WhatIfForm(forms.Form):
    """What a workshop tries on one shell. Whatever is left as it was, or empty, stays as it was sent."""

    gap = TapeField(label=_("Gap"))
    girth = TapeField(label=_("Girth"), quantity="girth")
    upper_strap = TapeField(label=_("Upper strap, below the top edge"))
    lower_strap = TapeField(label=_("Lower strap, above the bottom edge"))
    wall = forms.ChoiceField(
        label=_("Wall"),
        required=False,
        widget=forms.Select(attrs={"class": "input"}),
        error_messages={"invalid_choice": _("This workshop's catalogue has no such wall.")},
    )

    def __init__(self, *args, started: Mapping[str, str], walls: Sequence[Mapping], **kwargs) -> None:
        """`started` is what the fields hold for the shell as sent, `walls` the catalogue's."""
        super().__init__(*args, initial=started, label_suffix="", **kwargs)
        self.fields["wall"].choices = [
            (wall["key"], f"{wall['label']}, {digits(wall['wall_mm'], 2)} mm") for wall in walls
        ]
        for name, field in self.fields.items():
            field.widget.attrs["aria-describedby"] = f"{self.auto_id % name}-says"

    @property
    def wished(self) -> dict[str, object]:
        """What differs from the shell as sent and can be read: see `orders.what_if.shell_tried`."""
        wished: dict[str, object] = {}
        for name in self.changed_data:
            cleaned = self.cleaned_data.get(name)
            if cleaned and name in ("gap", "girth"):
                wished[name] = cleaned[0]
            elif cleaned:
                wished[name] = cleaned if name == "wall" else float(cleaned[1])
        return wished
