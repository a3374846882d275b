"""PDF files as other libraries read them: pikepdf for what is in them, pypdfium2 for what is seen."""

import io
import logging
from contextlib import contextmanager

import numpy as np
import pikepdf
import pypdfium2

PX_PER_MM = 10  # of what is rendered
DPI = 25.4 * PX_PER_MM


def texts(raw: bytes) -> list[str]:
    """Each page's text, in the order of the file, every white space one space."""
    return [" ".join(page.get_textpage().get_text_range().split()) for page in pypdfium2.PdfDocument(raw)]


def rendered(raw: bytes, page: int) -> np.ndarray:
    """A page in grey, 10 px to the mm. (high, wide) int, 0 is black."""
    return np.asarray(pypdfium2.PdfDocument(raw)[page].render(scale=DPI / 72).to_pil().convert("L")).astype(
        int
    )


def runs(line: np.ndarray) -> list[tuple[int, int]]:
    """Where a line of pixels is dark: first, and first after, of each run."""
    edges = np.flatnonzero(np.diff(np.concatenate([[0], (line < 110).astype(int), [0]])))
    return list(zip(edges[::2].tolist(), edges[1::2].tolist(), strict=True))


def opened(raw: bytes) -> pikepdf.Pdf:
    """The file as pikepdf reads it."""
    return pikepdf.open(io.BytesIO(raw))


def things(pdf: pikepdf.Pdf, **wanted: str) -> list:
    """The file's objects whose entries are these, as long as it is open: things(pdf, Type="/Font")."""
    keyed = [thing for thing in pdf.objects if isinstance(thing, pikepdf.Dictionary | pikepdf.Stream)]
    return [thing for thing in keyed if all(thing.get(f"/{key}") == value for key, value in wanted.items())]


def outside_margins(raw: bytes, margin_pt: float) -> list[tuple[int, str]]:
    """Letters that lie nearer to a page's edge than the margin: page and letter."""
    strays = []
    for number, page in enumerate(pypdfium2.PdfDocument(raw), start=1):
        width, height = page.get_size()
        text = page.get_textpage()
        for at in range(text.count_chars()):
            left, bottom, right, top = text.get_charbox(at)
            inside = left >= margin_pt and right <= width - margin_pt and bottom >= margin_pt
            if right > left and not (inside and top <= height - margin_pt):
                strays.append((number, text.get_text_range(at, 1)))
    return strays


@contextmanager
def typesetters_words():
    """What WeasyPrint says of a font, a style or an image that it can't use; a good page makes it say nothing."""
    said: list[str] = []

    class Keep(logging.Handler):
        def emit(self, record):
            said.append(record.getMessage())

    logger, keep = logging.getLogger("weasyprint"), Keep(logging.WARNING)
    logger.addHandler(keep)
    try:
        yield said
    finally:
        logger.removeHandler(keep)
