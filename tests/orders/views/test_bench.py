from datetime import timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from orders import bench, moves
from orders.models import Order, Query
from orders.models.event import note_look
from tests import factories

URL = "/bench/"
pytestmark = pytest.mark.django_db


@pytest.fixture
def order(clinician, fabricator):
    return factories.order(clinician, fabricator.organisation)


def test_bench_answers_reading_only(client_for, fabricator):
    assert client_for(fabricator).post(URL).status_code == 405


def test_stranger_is_sent_to_sign_in(client_for, order):
    answer = client_for(None).get(URL + "?show=sent")

    assert answer.status_code == 302
    assert answer["Location"] == "/accounts/login/?next=%2Fbench%2F%3Fshow%3Dsent"


def test_clinic_has_no_bench(client_for, clinician, lead, order):
    assert client_for(clinician).get(URL).status_code == 404
    assert client_for(lead).get(URL).status_code == 404


def test_other_workshop_sees_nothing_of_it(client_for, fabricator, other_fabricator, order):
    link = reverse("orders:order", args=[order.id])
    assert link in client_for(fabricator).get(URL).content.decode()

    page = client_for(other_fabricator).get(URL).content.decode()

    assert link not in page
    assert order.person.reference not in page
    assert "An order appears as soon as a clinic sends it." in page


def test_row_says_what_a_workshop_must_know(client_for, fabricator, clinician):
    due = timezone.localdate() + timedelta(days=6)
    factories.order(
        clinician, fabricator.organisation, factories.entry(reference="NF-0147"), need_by=due.isoformat()
    )

    answer = client_for(fabricator).get(URL)

    page = answer.content.decode()
    assert "NF-0147</a> left" in page
    assert clinician.organisation.name in page
    assert "<b>381</b> × <b>375</b>" in page  # 393.7 - 12.7; 14 3/4 in is 374.65 mm
    assert "one pin" in page
    assert "in 6 days" in page
    assert 'sent<span class="below">just now</span>' in page
    assert "<svg" in page


def test_rows_stand_in_groups_named_by_state(client_for, fabricator, order):
    groups = client_for(fabricator).get(URL).context["groups"]

    assert [(group.state, group.name, len(group.lines)) for group in groups] == [("sent", "New", 1)]


def test_due_today_is_told_apart(client_for, fabricator, clinician):
    today = timezone.localdate().isoformat()
    factories.order(clinician, fabricator.organisation, need_by=today)

    assert '<span class="below now">today</span>' in client_for(fabricator).get(URL).content.decode()


def test_order_nobody_has_opened_is_marked_by_word_and_bar(client_for, fabricator, order):
    page = client_for(fabricator).get(URL).content.decode()
    assert "not-opened" in page
    assert "not opened yet" in page

    note_look(order, fabricator)

    page = client_for(fabricator).get(URL).content.decode()
    assert "not-opened" not in page
    assert "not opened yet" not in page


def test_corrected_order_says_its_revision(client_for, fabricator, clinician, order):
    factories.correction(order, clinician, factories.entry(length=["16"], second_route=None))

    page = client_for(fabricator).get(URL).content.decode()

    assert "revision 2" in page
    assert 'corrected<span class="below">just now</span>' in page


def test_two_shells_of_one_order_are_one_row(client_for, fabricator, clinician):
    both = factories.entry(side="left"), factories.entry(side="right", girth=["15", "15"])
    factories.order(clinician, fabricator.organisation, *both)

    (line,) = client_for(fabricator).get(URL).context["groups"][0].lines

    assert [(shell.side, shell.girth_mm) for shell in line.shells] == [("left", "375"), ("right", "381")]


def test_search_by_reference_keeps_what_was_typed(client_for, fabricator, order):
    found = client_for(fabricator).get(URL, {"find": order.person.reference[:4]})
    assert len(found.context["groups"]) == 1

    nothing = client_for(fabricator).get(URL, {"find": '<b>"x'})

    assert nothing.context["groups"] == []
    assert 'value="&lt;b&gt;&quot;x"' in nothing.content.decode()
    assert '<b>"x' not in nothing.content.decode()


def test_next_page_keeps_what_was_asked_for(client_for, fabricator, clinician, monkeypatch):
    monkeypatch.setattr(bench, "PAGE_ROWS", 2)
    for _ in range(3):
        factories.order(clinician, fabricator.organisation)
    client = client_for(fabricator)

    first = client.get(URL, {"show": "sent"})
    assert "show=sent&amp;after=sent~" in first.content.decode()
    second = client.get(first.context["next_page"])

    shown = [line.order.id for page in (first, second) for line in page.context["groups"][0].lines]
    assert len(set(shown)) == 3
    assert "First page" in second.content.decode()
    assert second.context["follows"] is None


def test_order_that_waits_for_its_clinic_says_since_when_and_on_what(client_for, fabricator, order):
    asked = moves.query(order, fabricator, order.current, "left", "foot.ankle", "Does it turn?")
    Query.objects.filter(id=asked.id).update(asked_at=timezone.now() - timedelta(days=2))
    moves.query(order, fabricator, order.current, "left", "girth", "On the skin?")

    answer = client_for(fabricator).get(URL)

    assert [(group.name, len(group.lines)) for group in answer.context["groups"]] == [
        ("Waits for a clinic", 1)
    ]
    assert 'asked 2 days ago<span class="below">on ankle, 1 more</span>' in answer.content.decode()


def test_order_that_was_replied_to_waits_no_more(client_for, fabricator, clinician, order):
    asked = moves.query(order, fabricator, order.current, "left", "girth", "On the skin?")
    factories.correction(order, clinician, replies=[{"query": str(asked.id), "says": "Yes."}])

    page = client_for(fabricator).get(URL).content.decode()

    assert 'reply<span class="below">just now</span>' in page
    assert "on girth" not in page


def test_order_in_two_versions_is_marked(client_for, fabricator, order):
    client = client_for(fabricator)
    assert "two versions" not in client.get(URL).content.decode()
    Order.objects.filter(id=order.id).update(contested=True)

    assert "two versions</span>" in client.get(URL).content.decode()


def test_more_rows_make_no_more_sql(client_for, fabricator, clinician, django_assert_max_num_queries):
    client = client_for(fabricator)
    for _ in range(2):
        factories.order(clinician, fabricator.organisation)
    with django_assert_max_num_queries(99) as few:
        client.get(URL)

    for _ in range(6):
        factories.order(clinician, fabricator.organisation)
    with django_assert_max_num_queries(99) as many:
        answer = client.get(URL)

    assert len(answer.context["groups"][0].lines) == 8
    assert len(many) == len(few)


LIVE = {"HX-Request": "true"}


def test_an_open_page_is_told_that_nothing_moved(
    client_for, fabricator, order, django_assert_max_num_queries
):
    client = client_for(fabricator)
    tag = client.get(URL)["ETag"]

    with django_assert_max_num_queries(8):  # the session, the member, one look at the orders
        answer = client.get(URL, headers={**LIVE, "If-None-Match": tag})

    assert (answer.status_code, answer.content) == (304, b"")


def test_an_open_page_gets_the_queue_alone_when_something_moved(client_for, fabricator, order, monkeypatch):
    client = client_for(fabricator)
    tag = client.get(URL)["ETag"]
    moves.confirm(order, order.current.seal.sha256, fabricator)

    answer = client.get(URL, headers={**LIVE, "If-None-Match": tag})

    page = answer.content.decode()
    assert answer.status_code == 200
    assert page.startswith('<div class="bench-live" id="bench-live" hx-get="/bench/"')
    assert answer["ETag"] != tag
    assert answer["Cache-Control"] == "no-store, private"


def test_an_open_page_gets_the_count_of_news_anew(client_for, fabricator, clinician, order):
    client = client_for(fabricator)
    beside_the_bench = 'id="news-count"> <span class="news" title="orders with news">1<'
    assert beside_the_bench in client.get(URL).content.decode()

    factories.order(clinician, fabricator.organisation)

    page = client.get(URL, headers=LIVE).content.decode()
    assert beside_the_bench.replace('">', '" hx-swap-oob="true">', 1).replace("1<", "2<") in page


@pytest.mark.parametrize(("until", "asks"), [(60, True), (-1, False), (10**6, False)])
def test_a_page_asks_by_itself_for_a_while_only(client_for, fabricator, order, until, asks):
    said = str(int(timezone.now().timestamp()) + until)

    page = client_for(fabricator).get(URL, headers={**LIVE, "X-Live-Until": said}).content.decode()

    assert ("hx-trigger" in page) is asks
    assert ("Load it again" in page) is not asks


def test_a_correction_after_the_last_look_is_news(client_for, fabricator, clinician, order):
    client = client_for(fabricator)
    assert "changed since you looked" not in client.get(URL).content.decode()
    note_look(order, fabricator)
    factories.correction(order, clinician, factories.entry(length=["15 3/4"], second_route=None))

    assert "changed since you looked" in client.get(URL).content.decode()
    note_look(order, fabricator)
    assert "changed since you looked" not in client.get(URL).content.decode()


def test_sorting_is_told_to_the_eye_and_to_a_screen_reader_and_kept(
    client_for, fabricator, order, monkeypatch
):
    client = client_for(fabricator)

    by_flags = client.get(URL, {"by": "flags"}).content.decode()
    by_age = client.get(URL, {"by": "age", "show": "sent"}).content.decode()

    assert '<th role="columnheader" scope="col" aria-sort="descending">Flags</th>' in by_flags
    assert 'href="/bench/?by=flags" aria-current="true">flags</a>' in by_flags
    assert 'href="/bench/?show=queried&amp;by=flags"' in by_flags
    assert 'href="/bench/?show=sent&amp;by=age" aria-current="true">age</a>' in by_age
    assert "first sent just now" in by_age
    assert "first sent" not in by_flags


def test_next_page_keeps_the_sorting(client_for, fabricator, clinician, monkeypatch):
    monkeypatch.setattr(bench, "PAGE_ROWS", 2)
    orders = [factories.order(clinician, fabricator.organisation) for _number in range(3)]
    client = client_for(fabricator)

    first = client.get(URL, {"by": "age"})
    second = client.get(first.context["next_page"])

    shown = [line.order.id for page in (first, second) for line in page.context["groups"][0].lines]
    assert shown == [order.id for order in orders]


def test_what_has_left_offers_no_sorting(client_for, fabricator, order):
    assert "bench-sortings" in client_for(fabricator).get(URL).content.decode()

    assert "bench-sortings" not in client_for(fabricator).get(URL, {"show": "shipped"}).content.decode()


@pytest.mark.parametrize(
    ("address", "index"),
    [
        ("", "order_by_day"),
        ("?by=age", "order_by_age"),
        ("?by=flags", "order_by_flags"),
        ("?show=reason", "order_with_reason_by_day"),
        ("?show=reason&by=age", "order_with_reason_by_age"),
        ("?show=shipped", "order_left"),
    ],
)
def test_queue_is_read_along_an_index_and_never_sorted(client_for, fabricator, order, address, index):
    Order.objects.update(reasons=1, state="shipped" if "shipped" in address else "sent")
    with CaptureQueriesContext(connection) as queries:
        client_for(fabricator).get(URL + address)

    plans = {}
    for query in queries.captured_queries:
        if query["sql"].startswith("SELECT") and '"orders_order"' in query["sql"]:
            with connection.cursor() as cursor:
                cursor.execute("EXPLAIN QUERY PLAN " + query["sql"].replace("%", "%%"))
                plans[query["sql"]] = " ".join(step[3] for step in cursor.fetchall())
    pages = [plan for sql, plan in plans.items() if sql.endswith("LIMIT 51")]
    assert pages
    assert all(f"INDEX {index} " in plan for plan in pages)
    assert not [plan for plan in plans.values() if "SCAN orders_order" in plan or "TEMP B-TREE" in plan]
