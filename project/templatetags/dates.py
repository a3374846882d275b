"""The `date` filter of every template, in the form that the reader's language has."""

from django import template
from django.template.defaultfilters import date as plain

from project.dates import form_of

register = template.Library()


@register.filter(name="date", expects_localtime=True, is_safe=False)
def date(value, form: str | None = None) -> str:
    """As Django's own filter; its form turned into the language's."""
    return plain(value, form and form_of(form))
