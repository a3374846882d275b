"""The form of a component card, made from the sheet's own fields."""

import re

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from capture.cards import POINTS, held_fields
from capture.models import ComponentCard
from capture.sheet_fields import Field
from orders.reckoning.typed import understand
from project.names import refuse_unseen

POINT_ROWS = 4
POINT_SIDES = [
    ("rear", gettext_lazy("rear")),
    ("front", gettext_lazy("front")),
    ("inner", gettext_lazy("inner side")),
    ("outer", gettext_lazy("outer side")),
]
_MINUS = re.compile(r"\s*[-−]")


class LengthField(forms.CharField):
    """A length as typed, kept with its unit: a bare number is in mm."""

    def __init__(self, quantity: str = "", signed: bool = False, **more) -> None:
        super().__init__(max_length=64, required=False, **more)
        self.quantity, self.signed = quantity, signed

    def clean(self, value: str) -> str:
        text = super().clean(value)
        minus = _MINUS.match(text) if self.signed else None
        number = text[minus.end() :] if minus else text
        if not number:
            return ""
        understood = understand(number, "mm", self.quantity)
        if understood.outcome != "value":
            raise forms.ValidationError(understood.says)
        unit = "" if understood.reading.unit_typed else " mm"
        return f"{'-' if minus else ''}{number}{unit}"


class NumberField(forms.FloatField):
    """A number with the mark for tenths of any language, as the sheet takes it."""

    def to_python(self, value):
        return super().to_python(value.replace(",", ".") if isinstance(value, str) else value)


class CardForm(forms.Form):
    """A card of one kind. Fields of the sheet are named by their keys; empty ones are left out of the card."""

    label = forms.CharField(max_length=80, label=gettext_lazy("What you call it"), validators=[refuse_unseen])
    allows_shell = forms.ChoiceField(
        choices=ComponentCard.Allows.choices, label=gettext_lazy("Does its maker allow a shell over it?")
    )

    def __init__(self, kind: str, clinic_id, card: ComponentCard | None = None, data=None) -> None:
        self.kind, self.clinic_id, self.card = kind, clinic_id, card
        super().__init__(data, initial=initial_of(card) if card else {"allows_shell": "unknown"})
        for field in held_fields(kind):
            self.fields[field.key] = form_field(field)
        if kind == "knee":
            self.fields |= point_fields()

    def clean_label(self) -> str:
        """One card of a kind and name in a clinic, retired ones apart."""
        label = self.cleaned_data["label"]
        same = ComponentCard.objects.filter(
            clinic_id=self.clinic_id, kind=self.kind, label=label, retired_at=None
        )
        if same.exclude(id=self.card.id if self.card else None).exists():
            raise forms.ValidationError(_("Another card is called so. Give this one a name of its own."))
        return label

    def clean(self) -> dict:
        """A row of what must stay reachable says what it is."""
        given = super().clean()
        for row in range(POINT_ROWS):
            unnamed = not given.get(f"point-{row}-what")
            if unnamed and (given.get(f"point-{row}-below") or given.get(f"point-{row}-open")):
                self.add_error(f"point-{row}-what", _("Say what it is, or empty the row."))
        return given

    @property
    def holds(self) -> dict:
        """What the card holds, by the sheet's keys, once the form is valid."""
        given = self.cleaned_data
        holds = {field.key: held(given[field.key]) for field in held_fields(self.kind)}
        points = [point for row in range(POINT_ROWS) if (point := point_of(given, row))]
        return {key: value for key, value in {**holds, POINTS: points}.items() if value}

    @property
    def sheet_rows(self) -> list[forms.BoundField]:
        """The sheet's fields as the page shows them, in order."""
        return [self[field.key] for field in held_fields(self.kind)]

    @property
    def point_rows(self) -> list[list[forms.BoundField]]:
        """The rows of what must stay reachable; none for a foot."""
        rows = range(POINT_ROWS if self.kind == "knee" else 0)
        return [[self[f"point-{row}-{name}"] for name in ("what", "side", "below", "open")] for row in rows]


def form_field(field: Field) -> forms.Field:
    """A field of the sheet as a form asks for it."""
    label = _(field.label)
    if field.kind == "choice":
        choices = [("", _("not on this card")), *((one.value, _(one.label)) for one in field.choices)]
        return forms.ChoiceField(choices=choices, required=False, label=label)
    if field.kind == "number":
        label = _("%(what)s, in degrees") % {"what": label}
        return NumberField(required=False, label=label, min_value=field.least, max_value=field.most)
    return LengthField(field.quantity, field.signed, label=label)


def point_fields() -> dict[str, forms.Field]:
    """The fields of every row of what must stay reachable."""
    fields: dict[str, forms.Field] = {}
    for row in range(POINT_ROWS):
        fields[f"point-{row}-what"] = forms.CharField(
            max_length=80, required=False, label=_("What it is"), validators=[refuse_unseen]
        )
        fields[f"point-{row}-side"] = forms.ChoiceField(
            choices=POINT_SIDES, required=False, label=_("Where, on the shank")
        )
        fields[f"point-{row}-below"] = LengthField(label=_("Below the apex"))
        fields[f"point-{row}-open"] = forms.BooleanField(required=False, label=_("Must stay open"))
    return fields


def held(value) -> str:
    """A form's value as the phone keeps an answer: text."""
    return f"{value:g}" if isinstance(value, float) else value or ""


def point_of(given: dict, row: int) -> dict | None:
    """One row of what must stay reachable, as the sheet keeps it; None for an empty one."""
    what = given.get(f"point-{row}-what", "")
    if not what:
        return None
    return {
        "what": what,
        "side": given[f"point-{row}-side"] or "rear",
        "below_apex": given[f"point-{row}-below"],
        "stays_open": given[f"point-{row}-open"],
    }


def initial_of(card: ComponentCard) -> dict:
    """What the form begins with for a card that is there."""
    initial = {"label": card.label, "allows_shell": card.allows_shell}
    initial |= {key: value for key, value in card.holds.items() if key != POINTS}
    for row, point in enumerate(card.holds.get(POINTS, [])):
        for name, key in (
            ("what", "what"),
            ("side", "side"),
            ("below", "below_apex"),
            ("open", "stays_open"),
        ):
            initial[f"point-{row}-{name}"] = point[key]
    return initial
