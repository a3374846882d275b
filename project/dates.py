"""Days and moments as each language writes them: "5 Dec 09:12", "5. Dez. 09:12"."""

from django.utils import formats
from django.utils.translation import get_language

# The templates' own forms are as English has them. In German a day's number is an ordinal; Spanish and French write
# months small.
_IN_LANGUAGE = {"de": {"j M": "j. M"}, "es": {"j M": "j b"}, "fr": {"j M": "j b"}}


def form_of(form: str) -> str:
    """A form of Django's `date` filter, as the language that is active has it."""
    for english, own in _IN_LANGUAGE.get(get_language() or "", {}).items():
        form = form.replace(english, own)
    return form


def date_format(value, form: str) -> str:
    """As Django's own, in the form that the language has."""
    return formats.date_format(value, form_of(form))
