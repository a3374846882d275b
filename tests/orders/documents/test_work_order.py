from copy import deepcopy

import numpy as np
import pytest
import segno
from django.utils import translation
from django.utils.formats import date_format

from capture import photo_store
from capture.models import Photo
from capture.photos.uploads import keep_whole
from orders import moves
from orders.documents.slots import slots_of
from orders.documents.work_order import within, work_order
from orders.figure_rows import digits, figure_rows
from orders.reckon import reckon
from tests import factories
from tests.capture.photos.pictures import a_jpeg

from .pages import PX_PER_MM, opened, outside_margins, rendered, runs, texts, things, typesetters_words
from .shells import QUAYSIDE, catalogue, shell

pytestmark = pytest.mark.django_db
# worked case 3 of the reckoning: 401 mm long, straps at 130.45 and 79.65 mm
HARD = factories.entry(
    length=["16 1/2", "16 5/8"],
    second_route={"apex_to_floor": "20 3/8", "rim_to_floor": "3 3/4"},
    girth=["38.5 cm", "38.4 cm"],
    knee={"named": "polycentric", "pivots_seen": "several", "hardware_length": "4 1/4"},
    foot={"profile": "high", "ankle": "jointed", "hardware_above_rim": "3"},
    service_points=[{"what": "charging port", "side": "rear", "below_apex": "3", "stays_open": True}],
    answers={
        "foot.axis_unknown": "No drawing to hand.",
        "photo.missing": "Too dark.",
        "service.covered": "Cut out.",
    },
)


def confirmed(clinician, fabricator, *entries, **changes):
    order = factories.order(clinician, fabricator.organisation, *entries, **changes)
    moves.confirm(order, order.current.seal.sha256, fabricator)
    return order


@pytest.fixture
def order(clinician, fabricator):
    return confirmed(clinician, fabricator, HARD, need_by="2026-12-04", deliver_to="Hill Road 3")


def test_it_says_everything_that_the_shell_is_made_from(order, fabricator):
    revision = order.current
    with typesetters_words() as said:
        raw = work_order(order, revision, "a4")
    text = " ".join(texts(raw))

    assert said == []
    for words in (
        "T-0001, A. B.: left",
        "Fri 4 Dec 2026",
        "Hill Road 3",
        "Mill Lane Forming",
        revision.seal.sha256,
        "promised for " + date_format(order.promised_for, "D j M Y"),
    ):
        assert words in text
    assert f"T. M., {fabricator.organisation.name}" in text
    for row in figure_rows(*revision.shells[0]):
        assert row.label in text
        assert f"{row.value} {row.unit}" in text
        assert " ".join(row.came_about.split()) in text
    for words in (
        "16 1/2 in is 419.1 mm",
        "“No drawing to hand.”",
        "charging port, rear, 3 in below the apex",
        "Slate",
    ):
        assert words in text
    assert "+0/−2 mm" in text
    assert "HCPCS L5705" in text


def test_it_carries_the_cautions(order):
    text = texts(work_order(order, order.current, "a4"))[0]

    for caution in (
        "replaces neither judgement nor the component makers' instructions, which win where they differ",
        "Local rules and licensed practice come first",
        "never limit the knee's or the ankle's motion, nor cover what must be reached",
        "Never drill, heat or cut it near the components",
        "hot, red or suddenly swollen is not measured on: medical advice first",
        "skin is red for longer than twenty minutes",
    ):
        assert caution in text


@pytest.mark.parametrize(("paper", "size"), [("a4", (210, 297)), ("letter", (215.9, 279.4))])
def test_lengths_on_paper_are_what_they_say(order, paper, size):
    """The ruler is 50 mm, its squares 10 mm; from apex to rim, and the drawing's bar, are true at the scale.

    Rendered at 10 px to the mm by a library that has nothing to do with the one that set the page; a line's edge is
    good to a pixel at either end, the dimension's slashes and line ends add up to 0.7 mm.
    """
    raw = work_order(order, order.current, paper)
    pdf = opened(raw)
    box = [float(side) / 72 * 25.4 for side in pdf.pages[1].MediaBox]
    page = rendered(raw, 1)

    assert box[2:] == pytest.approx(size, abs=0.05)
    assert "scale 1 : 3" in texts(raw)[1]
    assert ruler_mm(page) == pytest.approx((50, 10), abs=0.3)
    assert longest_mm(page.T) == pytest.approx(420.688 / 3, abs=1.0)
    assert bar_mm(page) == pytest.approx(50 / 3, abs=0.3)


def ruler_mm(page: np.ndarray) -> tuple[float, float]:
    """Length of the ruler's five squares, and height of the first."""
    for y in range(len(page) - 1, 0, -1):
        dark = [run for run in runs(page[y]) if 95 <= run[1] - run[0] <= 105]
        if len(dark) == 3:
            high = next(b - a for a, b in runs(page[:, dark[0][0] + 50]) if a <= y < b)
            return (dark[2][1] - dark[0][0]) / PX_PER_MM, high / PX_PER_MM
    raise AssertionError("there is no ruler")


def longest_mm(lines: np.ndarray) -> float:
    """The longest dark run in any line."""
    return max(b - a for line in lines for a, b in runs(line)) / PX_PER_MM


def bar_mm(page: np.ndarray) -> float:
    """The drawing's bar: between the shoe's sole and the ruler the only dark line of over 10 mm."""
    found = [b - a for line in page[int(len(page) * 0.55) :] for a, b in runs(line) if 120 <= b - a <= 220]
    return float(np.median(found)) / PX_PER_MM


def test_scale_is_smaller_for_a_longer_leg(clinician, fabricator):
    long = factories.entry(length=["19 1/4"], second_route={"apex_to_floor": "23", "rim_to_floor": "3 3/4"})
    order = confirmed(clinician, fabricator, long)

    raw = work_order(order, order.current, "letter")

    # finished length and gap are dimensioned in one line, from apex to rim: 19 1/4 in is 488.95 mm
    assert "scale 1 : 4" in texts(raw)[1]
    assert longest_mm(rendered(raw, 1).T) == pytest.approx(488.95 / 4, abs=1.0)


def test_file_is_tagged_and_holds_nothing_that_runs_or_leads_out(order):
    pdf = opened(work_order(order, order.current, "a4"))

    assert pdf.Root.MarkInfo.Marked
    assert str(pdf.Root.Lang) == "en"
    assert str(pdf.docinfo["/Title"]) == "Work order T-0001, revision 1"
    assert pdf.Root.ViewerPreferences.DisplayDocTitle
    assert "/StructTreeRoot" in pdf.Root
    with pdf.open_metadata() as metadata:
        assert metadata["pdfuaid:part"] == "1"
    assert "/Names" not in pdf.Root or "/EmbeddedFiles" not in pdf.Root.Names
    for key in ("/OpenAction", "/AA", "/AcroForm"):
        assert key not in pdf.Root
    assert all("/Annots" not in page for page in pdf.pages)


def test_every_figure_has_words(order):
    raw = work_order(order, order.current, "a4")
    pdf = opened(raw)
    words = {str(figure.get("/Alt", "")) for figure in things(pdf, S="/Figure")}

    assert "" not in words
    assert "Left leg with the shank shell, drawn to scale." in words
    assert "A bar of 50 mm on paper, in five squares of 10 mm" in words


def test_every_font_is_embedded(order):
    pdf = opened(work_order(order, order.current, "a4"))
    described = things(pdf, Type="/FontDescriptor")

    assert described
    assert all("/FontFile2" in font or "/FontFile3" in font for font in described)


def test_pages_are_numbered_and_say_whose_they_are(order):
    pages = texts(work_order(order, order.current, "a4"))

    for number, text in enumerate(pages, start=1):
        assert f"page {number} / {len(pages)}" in text
        assert "T-0001, A. B.: left" in text
        assert "revision 1, sent" in text


def test_code_is_the_seal(order):
    """The squares printed in the corner, each looked at in its middle, are those of the seal's 64 letters."""
    sha256 = order.current.seal.sha256
    corner = rendered(work_order(order, order.current, "a4"), 0)[285:560, 1600:] < 110

    rows, columns = (np.flatnonzero(corner.any(axis=axis)) for axis in (1, 0))
    code = segno.make(sha256, error="m", micro=False).matrix
    middles = (np.arange(len(code)) + 0.5) / len(code)
    down = rows[0] + middles * (rows[-1] + 1 - rows[0])
    across = columns[0] + middles * (columns[-1] + 1 - columns[0])
    assert corner[np.ix_(down.astype(int), across.astype(int))].tolist() == [
        [bool(one) for one in row] for row in code
    ]


def test_same_order_gives_the_same_bytes(order):
    assert work_order(order, order.current, "a4") == work_order(order, order.current, "a4")


def test_preview_says_so_on_every_page_and_names_nobody_as_confirming(clinician, fabricator):
    order = factories.order(clinician, fabricator.organisation)

    pages = texts(work_order(order, order.current, "a4", preview=True))

    assert all("PREVIEW: nothing is made from this" in text for text in pages)
    assert "not confirmed" in pages[0]


def test_confirmed_one_says_nothing_of_a_preview(order):
    assert "PREVIEW" not in " ".join(texts(work_order(order, order.current, "a4")))


def test_both_shells_stand_in_it_each_with_its_own(clinician, fabricator):
    both = factories.entry(side="left"), factories.entry(side="right", girth=["15", "15"])
    order = confirmed(clinician, fabricator, *both)

    text = " ".join(texts(work_order(order, order.current, "a4")))

    assert "Shank shell, left: transfemoral" in text
    assert "Shank shell, right: transfemoral" in text
    assert "Drawing, right leg: scale 1 : 3" in text
    assert "375 mm" in text
    assert "381 mm" in text


def test_what_is_left_to_trim_is_said(clinician):
    quayside = factories.member("fabricator", factories.workshop("Quay", "quayside-forming"))
    order = confirmed(clinician, quayside, factories.entry(shell=QUAYSIDE))

    text = " ".join(texts(work_order(order, order.current, "a4")))

    assert "10 mm below the finished length, its line marked" in text
    assert "+1/−3 mm" in text


def test_sections_have_the_languages_own_decimal_mark(order):
    # worked case 3 is 401 mm long: its last section of 19 lies there
    revision = order.current
    with translation.override("de"):
        german = " ".join(texts(work_order(order, revision, "a4")))

    assert " 401,0 " in german
    assert "401.0" not in german
    assert "Seite 1 / " in german


def test_photos_stand_in_it_and_one_that_can_not_says_why(clinician, fabricator):
    kept, lost = keep_whole(clinician, a_jpeg()), keep_whole(clinician, a_jpeg(200))
    factories.photo(clinician, "d" * 64, reason=Photo.Reason.DAMAGED)
    named = [
        factories.named_photo(kept.sha256, "foot"),
        factories.named_photo(lost.sha256, "knee"),
        factories.named_photo("d" * 64, "side"),
    ]
    order = confirmed(clinician, fabricator, photos=named)
    photo_store.delete_pictures(Photo.objects.get(sha256=lost.sha256).id)

    raw = work_order(order, order.current, "a4")
    text, pdf = " ".join(texts(raw)), opened(raw)
    pictures = [image for image in things(pdf, Subtype="/Image") if "/DCTDecode" in str(image.Filter)]

    assert len(pictures) == 1
    assert "T-0001, left: photo, foot, near" in {str(figure.Alt) for figure in things(pdf, S="/Figure")}
    assert "This photo could not be read when the work order was made." in text
    assert "its file was damaged or cut off" in text


def test_slots_are_where_the_station_table_has_them_and_said_to_be_defaults(clinician, fabricator):
    order = confirmed(clinician, fabricator)
    upper, lower = slots_of(shell())
    text = " ".join(texts(work_order(order, order.current, "a4")))

    # worked case 1: 381 mm long, straps at 60 below the top and 60 above the bottom; a strap of 25 mm, 7 mm longer
    assert f"upper strap 321 {digits(upper.round_mm, 1)} 32 4" in text
    assert f"lower strap 60 {digits(lower.round_mm, 1)} 32 4" in text
    assert "are defaults, not measured; the surface files have no slots." in text


def test_no_heading_stays_behind_without_its_table(order):
    for paper in ("a4", "letter"):
        for page in texts(work_order(order, order.current, paper)):
            assert ("Sections of the outside" in page) is ("front, before the pylon" in page)


def test_order_that_lacks_something_is_printed_with_what_there_is(clinician, fabricator):
    """An option that its catalogue hasn't, figures that couldn't be reckoned: the rest is still what it is."""
    order = confirmed(clinician, fabricator)
    revision = order.current
    walls = [{**wall, "key": "other"} for wall in revision.catalogue.content["walls"]]
    revision.catalogue.content = {**revision.catalogue.content, "walls": walls}
    unknown = dict.fromkeys(("mass_g", "rear_trim_mm", "margin_mm", "upper_strap_mm", "hcpcs"))
    revision.results = [{**revision.results[0], **unknown, "stations": []}]

    text = " ".join(texts(work_order(order, revision, "a4")))

    assert "Finished length 381 mm" in text
    assert "Wall thin" in text
    assert "Upper strap" not in text
    assert "Sections of the outside" not in text
    assert "Slots for the straps" not in text
    assert "HCPCS" not in text


def test_long_words_and_many_flags_stay_on_the_page(clinician, fabricator):
    """Whatever may be typed into the free fields, at its longest, and every flag with a reason of its full length."""
    entry = deepcopy(HARD)
    entry["reference"] = "W" * 40
    entry["knee"]["label"] = "Unbroken" * 25
    entry["foot"]["label"] = "<b>&amp; “ﬁne” 長い</b> <img src=file:///etc/hostname>"
    entry["service_points"] = [
        {"what": "x" * 80, "side": "rear", "below_apex": f"{n + 1}", "stays_open": True} for n in range(8)
    ]
    entry |= {"taken": "seated", "girth_over": "stocking", "swelling": "some", "gap": "1 1/8"}
    first = reckon(entry, catalogue())
    entry["answers"] = {flag["id"]: "Word " * 400 for flag in first["flags"] if flag["level"] == "explain"}
    order = confirmed(clinician, fabricator, entry)

    raw = work_order(order, order.current, "letter")
    text = " ".join(texts(raw))

    assert len(entry["answers"]) > 4
    assert text.count("Word Word") > 4 * 150
    assert outside_margins(raw, 15) == []
    assert "<img src=file:///etc/hostname>" in text


@pytest.mark.parametrize(
    ("key", "says"),
    [
        ("finished_length_mm", "+0/−2 mm"),
        ("girth_mm", "±5 mm"),
        ("upper_strap_mm", "±3 mm"),
        ("lower_strap_mm", "±3 mm"),
        ("gap_mm", ""),
    ],
)
def test_how_far_it_may_be_off_is_the_catalogues(key, says):
    # the demo catalogue of the reckoning, section 7
    as_made = {"length_over_mm": 0, "length_under_mm": 2, "girth_mm": 5, "strap_place_mm": 3}

    assert within(key, as_made) == says


def test_more_shells_and_photos_make_no_more_sql(clinician, fabricator, django_assert_max_num_queries):
    counts = []
    for many in (1, 2):
        sides = [factories.entry(side=side) for side in ("left", "right")[:many]]
        named = [
            factories.named_photo(keep_whole(clinician, a_jpeg(80 * (many + n))).sha256) for n in range(many)
        ]
        order = confirmed(clinician, fabricator, *sides, photos=named)
        revision = order.current
        with django_assert_max_num_queries(99) as made:
            work_order(order, revision, "a4")
        counts.append(len(made))

    assert counts[0] == counts[1]
