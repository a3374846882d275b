"""Pages to PDF: our own fonts and pictures that are handed over, nothing fetched, tagged by PDF/UA-1.

WeasyPrint reads no custom properties inside an SVG, so a figure brings its style along with every value put in.
"""

import atexit
import re
import threading
from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path

import tinycss2
from django.conf import settings

FONTS = Path(__file__).resolve().parent / "fonts"
# file: (family, weight). The first family's letters are used where it has them.
FACES = {
    "noto-sans-latin-400-normal.woff2": ("Noto Sans Latin", 400),
    "noto-sans-latin-700-normal.woff2": ("Noto Sans Latin", 700),
    "NotoSans-Regular.ttf": ("Noto Sans", 400),
    "NotoSans-Bold.ttf": ("Noto Sans", 700),
}
FAMILIES = '"Noto Sans Latin", "Noto Sans"'
PX_PER_MM = 96 / 25.4  # of CSS
Picture = tuple[bytes, str]  # bytes, media type

_one_at_a_time = threading.Lock()
_VAR = re.compile(r"var\(\s*(--[\w-]+)\s*(?:,([^()]*))?\)")


def pdf_of(html: str, style: str, pictures: Mapping[str, Picture]) -> bytes:
    """A page of HTML as a PDF file. The same page gives the same bytes.

    Parameters
    ----------
    html : str
        With a title and a language, which a tagged file needs.
    style : str
        CSS, after that of the fonts.
    pictures : mapping
        What its images may name, by their whole address; anything else is refused, and left out of the page.
    """
    from weasyprint import CSS, HTML  # it takes a second and a half, and most requests need no PDF

    with _one_at_a_time:  # the fonts' configuration is one for all, and its library says nothing of threads
        fonts, faces = our_fonts()
        page = HTML(string=html, url_fetcher=only(pictures))
        sheets = [faces, CSS(string=style, font_config=fonts, url_fetcher=only({}))]
        return page.write_pdf(stylesheets=sheets, font_config=fonts, pdf_variant="pdf/ua-1")


@cache
def our_fonts():
    """The fonts, read once: their configuration, and the style sheet that names them."""
    from weasyprint import CSS
    from weasyprint.text.fonts import FontConfiguration

    fonts = FontConfiguration()
    atexit.register(our_fonts.cache_clear)  # it deletes its files, and must while Python still stands
    faces = "".join(
        f'@font-face {{ font-family: "{family}"; font-weight: {weight}; src: url(font:{name}) }}'
        for name, (family, weight) in FACES.items()
    )
    files = {f"font:{name}": ((FONTS / name).read_bytes(), "application/octet-stream") for name in FACES}
    return fonts, CSS(string=faces, font_config=fonts, url_fetcher=only(files))


def only(given: Mapping[str, Picture]):
    """A fetcher that knows what is given, and fetches nothing, neither from the network nor from the disk."""
    from weasyprint.urls import URLFetcher, URLFetcherResponse

    class Only(URLFetcher):
        def fetch(self, url, headers=None):
            if url not in given:
                raise ValueError("documents fetch nothing")
            content, media_type = given[url]
            return URLFetcherResponse(url, content, {"Content-Type": media_type})

    return Only()


def with_style(svg: str) -> str:
    """A figure's SVG with its style inside, as it looks on paper."""
    head, end, rest = svg.partition(">")
    return f"{head}{end}<style>{figure_style()}</style>{rest}"


@cache
def figure_style() -> str:
    """The figure's style sheet for print, every custom property put in."""
    tokens = Path(settings.ROOT, "static/css/tokens.css").read_text(encoding="utf-8")
    figure = Path(settings.ROOT, "static/css/figure.css").read_text(encoding="utf-8")
    values: dict[str, str] = {}
    rules: list[str] = []
    for selector, declarations in printed_rules(tokens + figure):
        kept = []
        for name, value in declarations:
            if name.startswith("--"):
                values[name] = value
            else:
                kept.append(f"{name}:{value}")
        if kept and ".fg" in selector:
            rules.append(f"{selector}{{{';'.join(kept)}}}")
    values["--sans"] = FAMILIES
    # Lettering has a line in the paper's colour behind it on a screen; here the line would lie over the letters.
    rules.append(".fg .fg-note,.fg .fg-value{stroke:none}")
    return resolved("".join(rules), values)


def printed_rules(css: str) -> Iterator[tuple[str, list[tuple[str, str]]]]:
    """Each rule that counts on paper: its selector, and its declarations as texts."""
    for rule in tinycss2.parse_stylesheet(css, skip_comments=True, skip_whitespace=True):
        if rule.type == "qualified-rule":
            yield tinycss2.serialize(rule.prelude).strip(), declarations_of(rule)
        elif rule.type == "at-rule" and tinycss2.serialize(rule.prelude).strip() == "print":
            yield from printed_rules(tinycss2.serialize(rule.content))


def declarations_of(rule) -> list[tuple[str, str]]:
    """Names and values of a rule; what SVG in a PDF has no use for is left out."""
    found = tinycss2.parse_declaration_list(rule.content, skip_comments=True, skip_whitespace=True)
    return [
        (one.name, tinycss2.serialize(one.value).strip())
        for one in found
        if one.type == "declaration" and one.name not in {"vector-effect", "paint-order", "overflow"}
    ]


def resolved(css: str, values: Mapping[str, str]) -> str:
    """The text with each var() replaced by its value. Raises KeyError for one that has none."""
    while _VAR.search(css):
        css = _VAR.sub(
            lambda found: values[found[1]] if found[1] in values or found[2] is None else found[2], css
        )
    return css
