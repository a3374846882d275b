"""The page of the design's parts: every component in every state, made by the modules and styles that the sheet uses."""

from django.template.loader import render_to_string
from django.utils import translation

from capture.sheet import sheet_json


def render_design(static_prefix: str) -> str:
    """The whole HTML page, in English: it is for who works on the site.

    Parameters
    ----------
    static_prefix : str
        Where this build's static files lie, with a slash at its end.
    """
    with translation.override("en"):
        return render_to_string(
            "capture/design.html", {"static": static_prefix, "sheet": sheet_json(static_prefix, "en")}
        )
