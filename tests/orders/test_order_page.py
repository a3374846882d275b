import pytest

from orders import bench_lines, moves, order_page
from tests import factories

EVENTS = {move for _state, move in moves.MOVES} | {
    "contest",
    "stage undone",
    "remake",
    "handout made",
    "handout withdrawn",
    "problem",
}


def test_every_event_has_words_on_the_bench_and_on_the_order():
    assert set(bench_lines.EVENT_WORDS) == EVENTS
    assert set(order_page.HAPPENED) == EVENTS


@pytest.mark.django_db
def test_only_the_revision_that_counts_may_be_confirmed(clinician, fabricator):
    order = factories.order(clinician, fabricator.organisation)
    first = order.current
    factories.correction(order, clinician, factories.entry(girth=["15", "15"]))
    order.refresh_from_db()

    assert order_page.may_be_confirmed(order, order.current, fabricator)
    assert not order_page.may_be_confirmed(order, first, fabricator)
    assert not order_page.may_be_confirmed(order, order.current, clinician)


@pytest.mark.django_db
def test_wall_is_told_with_its_thickness_and_a_pad_where_one_is_advised(clinician, fabricator):
    # 350 mm, spring, hardware 150 mm: the upper strap lies at 172.5 of 330 mm, below the middle.
    entry = factories.entry(
        units="mm",
        length=["350"],
        girth=["375", "375"],
        second_route=None,
        knee={"named": "polycentric", "pivots_seen": "several", "hardware_length": "150"},
        foot={"ankle": "spring"},
        answers={"strap.close": "Agreed with the workshop."},
    )
    order = factories.order(clinician, fabricator.organisation, entry)

    (shell,) = order_page.shells_shown(order.current, None)

    words = {answer.path: answer.words for answer in shell.options}
    assert words["shell.wall"].endswith(", 4 mm")
    assert words["foam_pad"].startswith("one at the top")
