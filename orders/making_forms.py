"""Forms of making: the promised day, a finished shell measured, how it leaves."""

from collections.abc import Sequence
from datetime import date
from functools import cached_property

from django import forms
from django.utils.translation import gettext_lazy as _

from orders.changes import Shell
from orders.figure_rows import digits
from orders.inspection import (
    MEASURED,
    READINGS_MOST,
    Line,
    Misread,
    kept,
    length_line,
    limits_of,
    limits_words,
    line_shown,
    mass_line,
    mass_reckoned,
    misses,
    places,
)
from orders.models import Inspection
from orders.promise import latest_promise
from project.names import refuse_unseen


class Readings(forms.MultiWidget):
    """A few text inputs in a row, for one figure's repeats."""

    def __init__(self, label: str) -> None:
        text = {"maxlength": 64, "autocomplete": "off"}
        super().__init__([forms.TextInput(attrs=text) for _number in range(READINGS_MOST)])
        for number, widget in enumerate(self.widgets, start=1):
            widget.attrs["aria-label"] = _("%(what)s, reading %(number)s") % {"what": label, "number": number}

    def decompress(self, value) -> list:
        return list(value or [None] * READINGS_MOST)


class ReadingsField(forms.MultiValueField):
    """One figure's readings as typed; which of them count is asked when they are measured."""

    def __init__(self, label: str) -> None:
        texts = [forms.CharField(required=False, max_length=64) for _number in range(READINGS_MOST)]
        widget = Readings(label)
        super().__init__(texts, required=False, require_all_fields=False, label=label, widget=widget)

    def compress(self, data_list: Sequence[str]) -> list[str]:
        return [text for text in data_list if text]


def missed_words(missed: Sequence[Line]) -> str:
    """Asks what becomes of a miss."""
    names = ", ".join(str(_(MEASURED[line.key][0])) for line in missed)
    return str(_("Beyond its limits: %(names)s. Accept it with a reason, or make it again.")) % {
        "names": names
    }


def lead_to_error(form: forms.Form) -> None:
    """Gives the first field that is wrong the focus, so that a page shown again is seen there; a row's first input."""
    wrong = next(field for name, field in form.fields.items() if name in form.errors)
    inputs = getattr(wrong.widget, "widgets", [wrong.widget])
    inputs[0].attrs["autofocus"] = True


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
        self.latest = latest_promise(earliest)
        days = {"min": earliest.isoformat(), "max": self.latest.isoformat()}
        self.fields["promised_for"].widget.attrs.update(days)

    def clean_promised_for(self) -> date:
        day = self.cleaned_data["promised_for"]
        if day > self.latest:
            raise forms.ValidationError(_("That is more than a year ahead. Look at the year."))
        return day


class InspectionForm(forms.Form):
    """A finished shell, measured. A figure beyond its limits wants a decision and a reason; all that was typed stays."""

    unit = forms.ChoiceField(
        label=_("A bare number is in"), choices=[("mm", "mm"), ("cm", "cm"), ("in", "in")]
    )
    mass = forms.DecimalField(
        label=_("Mass"),
        min_value=1,
        max_value=20_000,
        max_digits=12,
        widget=forms.TextInput(attrs={"inputmode": "decimal"}),
        error_messages={
            "required": _("Weigh it with its straps."),
            "invalid": _("This is no number of grams."),
            "max_digits": _("This is no number of grams."),
            "min_value": _("Weigh it in grams."),
            "max_value": _("No shell weighs so much. Weigh it in grams."),
        },
    )
    decision = forms.ChoiceField(
        label=_("What becomes of it"),
        required=False,
        choices=[
            ("", _("It is good as measured")),
            ("accepted", _("A miss is accepted, with a reason")),
            ("remade", _("It is made again")),
        ],
    )
    reason = forms.CharField(label=_("Reason"), required=False, max_length=300)

    def __init__(self, data=None, *, shell: Shell, **kwargs) -> None:
        super().__init__(data, label_suffix="", prefix=shell.side, initial={"unit": "mm"}, **kwargs)
        self.shell = shell
        self.lines: list[Line] = []
        for key in MEASURED:
            self.fields[key] = ReadingsField(str(_(MEASURED[key][0])))
        self.order_fields(["unit", *MEASURED])
        for field in self.fields.values():
            field.widget.attrs["class"] = "input"

    @cached_property
    def mass_reckoned(self) -> float | None:
        """What the shell is to weigh. [g]"""
        return mass_reckoned(self.shell)

    def clean(self) -> dict:
        cleaned = super().clean()
        self.measure(cleaned)
        if not self.errors:
            self.decide(cleaned)
        return cleaned

    def measure(self, cleaned: dict) -> None:
        """Holds what was typed against the order, line by line."""
        limits = limits_of(self.shell)
        for key in MEASURED:
            try:
                self.lines.append(
                    length_line(key, cleaned.get(key) or (), cleaned.get("unit", "mm"), limits[key])
                )
            except Misread as misread:
                self.add_error(key, str(misread))
        if cleaned.get("mass") is not None and self.mass_reckoned is not None:
            self.lines.append(mass_line(float(cleaned["mass"]), self.mass_reckoned))

    def decide(self, cleaned: dict) -> None:
        """A miss is accepted or made again, either with a reason; without one there is nothing to accept."""
        missed, decision = misses(self.lines), cleaned["decision"]
        if decision and not cleaned["reason"]:
            self.add_error("reason", _("Write down why."))
        if missed and not decision:
            self.add_error("decision", missed_words(missed))
        if decision == Inspection.Outcome.ACCEPTED and not missed:
            self.add_error("decision", _("Everything is within its limits: there is nothing to accept."))

    def inspection(self, attempt: int) -> Inspection:
        """The unsaved inspection."""
        cleaned = self.cleaned_data
        return Inspection(
            side=self.shell.side,
            attempt=attempt,
            typed={
                "unit": cleaned["unit"],
                "mass_g": str(cleaned["mass"]),
                **{key: cleaned[key] for key in MEASURED},
            },
            lines=kept(self.lines),
            outcome=cleaned["decision"] or Inspection.Outcome.PASSED,
            reason=cleaned["reason"],
        )

    def rows(self) -> list[dict]:
        """What the page's table shows: each figure with what was ordered, its limits and its readings."""
        limits, where = limits_of(self.shell), places(self.shell.catalogue)
        return [
            {
                "field": self[key],
                "place": where[key],
                "ordered": digits(limits[key].ordered_mm, 1),
                "limits": limits_words(limits[key]),
                "line": next((line_shown(line, where) for line in self.lines if line.key == key), None),
            }
            for key in MEASURED
        ]


class ShipForm(forms.Form):
    """How the order leaves."""

    carrier = forms.CharField(
        label=_("Carrier"),
        max_length=60,
        validators=[refuse_unseen],
        error_messages={"required": _("Say who carries it: a carrier, or “by hand”.")},
    )
    number = forms.CharField(
        label=_("Number"),
        max_length=60,
        required=False,
        validators=[refuse_unseen],
        help_text=_("The parcel's number, so that the clinic can follow it. Empty where there is none."),
    )

    def __init__(self, *args, **kwargs) -> None:
        super().__init__(*args, label_suffix="", **kwargs)
        for field in self.fields.values():
            field.widget.attrs.update({"class": "input", "autocomplete": "off"})
