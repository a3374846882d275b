"""The small line drawings beside the phone's words, each one path on a square of 24."""

from django.utils.html import format_html
from django.utils.safestring import SafeString

LINE_MARKS = {
    "back": "M14 4 6 12l8 8",
    "on": "m9 4 8 8-8 8",
    "phone": "M8.5 3h7a2 2 0 0 1 2 2v14a2 2 0 0 1-2 2h-7a2 2 0 0 1-2-2V5a2 2 0 0 1 2-2zM11 18h2",
    "enlarge": "M13 11 20 4m-6 0h6v6M11 13l-7 7m6 0H4v-6",
    "tick": "m4 12.5 5.5 5.5L20 6.5",
    "erase": "M8 5h13v14H8L2 12zM11 9l6 6m0-6-6 6",
    "keys": (
        "M4 6h16a1.5 1.5 0 0 1 1.5 1.5v9A1.5 1.5 0 0 1 20 18H4a1.5 1.5 0 0 1-1.5-1.5v-9A1.5 1.5 0 0 1 4 6z"
        "M6 10h.01M10 10h.01M14 10h.01M18 10h.01M8 14h8"
    ),
    "otherWay": "M3 21h18M8 21V4m-3 2 6-4M17 21v-6m-3 2 6-4",
}


def line_mark(name: str) -> SafeString:
    """One of them as SVG, hidden from screen readers: a word always stands beside it or in its label.

    Raises KeyError for a name that there is none of. Twin of `line` in static/js/sheet/lines.js.
    """
    return format_html(
        '<svg class="line-mark" viewBox="0 0 24 24" aria-hidden="true" focusable="false"><path d="{}"/></svg>',
        LINE_MARKS[name],
    )
