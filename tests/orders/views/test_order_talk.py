"""What the order's page shows of queries, replies and versions."""

import pytest
from django.urls import reverse

from capture import sync
from orders import moves
from tests import factories

pytestmark = pytest.mark.django_db


@pytest.fixture
def order(clinician, fabricator):
    return factories.order(clinician, fabricator.organisation)


@pytest.fixture
def read(client_for, fabricator):
    """The order's page as its workshop reads it."""
    return lambda order, **asked: client_for(fabricator).get(reverse("orders:order", args=[order.id]), asked)


def ask(order, fabricator, field="length", text="Is that to the rim?"):
    return moves.query(order, fabricator, order.current, "left", field, text)


def other_version(order, by, parent):
    """A seal made from a revision that is not the current one any more."""
    raw = factories.seal(
        order.workshop,
        factories.entry(girth=["15 1/4", "15 1/4"]),
        order_id=order.id,
        parent=parent,
        visit_id=order.visit_id,
    )
    assert sync.take_seal(by, order.id, factories.hash_of(raw), raw)["outcome"] == "kept"
    order.refresh_from_db()


def test_every_row_offers_the_question(read, order):
    page = read(order)

    text, (shell,) = page.content.decode(), page.context["shells"]
    fields = [row.key for row in shell.rows] + [reading.path for reading in shell.readings]
    fields += [answer.path for answer in [*shell.fitted, *shell.options, *shell.measured]]
    assert len(fields) > 25
    for field in fields:
        assert f"ask?revision=1&amp;side=left&amp;field={field}" in text


def test_every_question_that_is_offered_opens(client_for, fabricator, read, order):
    client = client_for(fabricator)
    rows = read(order).context["shells"][0].rows

    for row in rows:
        address = reverse("orders:query-ask", args=[order.id])
        asked = {"revision": "1", "side": "left", "field": row.key}
        assert client.get(address, asked).status_code == 200, row.key


def test_older_revision_and_confirmed_order_offer_none(read, clinician, fabricator, order):
    factories.correction(order, clinician, factories.entry(girth=["15", "15"]))
    order.refresh_from_db()
    assert "Ask about this entry" in read(order).content.decode()
    assert "Ask about this entry" not in read(order, revision="1").content.decode()

    moves.confirm(order, order.current.seal.sha256, fabricator)
    assert "Ask about this entry" not in read(order).content.decode()


def test_query_is_pinned_to_its_entry_and_to_the_figure_that_rests_on_it(read, fabricator, order):
    query = ask(order, fabricator, "girth")

    text = read(order).content.decode()

    assert (
        text.count(f'href="#query-{query.id}">asked') == 4
    )  # girth, inside girth, and the reading typed twice
    assert "A query waits for the clinic" in text
    assert "<h3>Girth</h3>" in text


def test_withdrawn_query_says_so_and_is_pinned_nowhere(read, fabricator, order):
    query = ask(order, fabricator)
    moves.withdraw(order, query, fabricator)

    text = read(order).content.decode()

    assert "Withdrawn" in text
    assert f'href="#query-{query.id}"' not in text
    assert "Withdraw the query" not in text


def test_words_of_both_sides_are_words_and_nothing_else(read, clinician, fabricator, order):
    query = ask(order, fabricator, text="<b>Which</b> rim?")
    factories.correction(order, clinician, replies=[{"query": str(query.id), "says": "<i>That</i> one."}])

    text = read(order).content.decode()

    assert "&lt;b&gt;Which&lt;/b&gt; rim?" in text
    assert "&lt;i&gt;That&lt;/i&gt; one." in text


def test_two_versions_are_shown_side_by_side_and_neither_confirmed(read, clinician, order):
    first = order.current.seal.sha256
    factories.correction(order, clinician, factories.entry(girth=["15", "15"]))
    other_version(order, clinician, first)
    assert order.contested

    text = read(order).content.decode()

    assert "Two versions; the clinic is choosing" in text
    girths = '<th scope="row">Girth, outside, at the widest</th><td>381 mm</td><td>387 mm</td>'
    assert girths in text  # 15 in, 15 1/4 in is 387.35
    assert "Confirm revision" not in text
    assert "Ask about this entry" not in text


def test_picked_version_is_history(read, clinician, order):
    first = order.current.seal.sha256
    factories.correction(order, clinician, factories.entry(girth=["15", "15"]))
    other_version(order, clinician, first)
    moves.pick(order, clinician)

    text = read(order).content.decode()

    assert "Two versions" not in text
    assert "Confirm revision 2" in text


def test_version_that_came_after_confirmation_is_shown_and_moved_nothing(read, clinician, fabricator, order):
    seal = order.current.seal.sha256
    moves.confirm(order, seal, fabricator)
    other_version(order, clinician, seal)

    text = read(order).content.decode()

    assert "Arrived after confirmation, moved nothing" in text
    assert "Revision 1 is confirmed." in text
    assert "<td>387 mm</td>" in text


def test_more_queries_make_no_more_sql(read, fabricator, order, django_assert_max_num_queries):
    read(order)  # a workshop's first look is noted on the order, once
    counts = []
    for text in ("First?", "Second?", "Third?"):
        ask(order, fabricator, text=text)
        with django_assert_max_num_queries(99) as made:
            read(order)
        counts.append(len(made))

    assert len(set(counts)) == 1
