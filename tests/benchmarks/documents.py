"""The work order, against the bare library setting the same pages; and what else is made at a confirmation.

The library gets the very HTML, style, fonts and pictures that the work order is set from, and is asked for the same
tagged file. What the work order does besides: read the order, draw the leg, write the page.
"""

from collections.abc import Iterator

from tests.benchmarks.own_site import own_site
from tests.benchmarks.timing import Figure, ratio, typical_ms

MOST = 1.5


def figures() -> Iterator[Figure]:
    """Yields them as they are measured, on a site of its own that goes again."""
    with own_site():
        yield from measured()


def measured() -> Iterator[Figure]:
    """One order of two shells with photos, as hard as they come."""
    from orders.documents import work_order as module  # all of this needs the site's tables
    from orders.documents.kinds import KINDS
    from tests.capture.photos.pictures import noise_jpeg
    from tests.orders.documents.pages import texts

    order = confirmed_order(noise_jpeg(1600))
    revision = order.current
    handed: list = []
    set_page = module.pdf_of
    module.pdf_of = lambda *page: handed.append(page) or set_page(*page)
    raw = module.work_order(order, revision, "a4")
    module.pdf_of = set_page
    html, style, pictures = handed[0]
    if bare(html, style, pictures) != raw:
        raise AssertionError("the library alone was not asked for the same file")
    print(f"  {len(texts(raw))} pages, {len(raw) // 1000} kB")

    def ours() -> None:
        module.work_order(order, revision, "a4")

    yield Figure(
        "the work order, against the bare library on the same pages",
        ratio(ours, lambda: bare(html, style, pictures), 7),
        "×",
        MOST,
    )
    yield Figure("the work order", typical_ms(ours, 5), "ms")
    for kind in KINDS:
        if kind.per_shell:
            made = typical_ms(lambda kind=kind: kind.make(order, revision, "left"), 5)
            yield Figure(f"{kind.title}, {kind.format}", made, "ms")


def bare(html: str, style: str, pictures: dict) -> bytes:
    """The library on its own, with the fonts already read."""
    from weasyprint import CSS, HTML  # it takes a second and a half, which is not what is timed

    from orders.documents.paper import only, our_fonts

    fonts, faces = our_fonts()
    sheets = [faces, CSS(string=style, font_config=fonts)]
    page = HTML(string=html, url_fetcher=only(pictures))
    return page.write_pdf(stylesheets=sheets, font_config=fonts, pdf_variant="pdf/ua-1")


def confirmed_order(photo: bytes):
    """The order, taken in and confirmed as the site does."""
    from capture.photos.uploads import keep_whole
    from orders import moves
    from tests import factories

    clinician = factories.member("clinician", factories.clinic())
    fabricator = factories.member("fabricator", factories.workshop())
    kept = keep_whole(clinician, photo)
    named = [factories.named_photo(kept.sha256, view) for view in ("side", "front")]
    both = factories.entry(side="left"), factories.entry(side="right")
    order = factories.order(clinician, fabricator.organisation, *both, photos=named)
    moves.confirm(order, order.current.seal.sha256, fabricator)
    return order
