from datetime import timedelta
from urllib.parse import quote

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from orders import bench, clinic_list, moves
from orders.models import Order, Query
from orders.models.event import note_look
from tests import factories

pytestmark = pytest.mark.django_db
URL = "/orders/"


def entry(reference, **changes):
    return factories.entry(reference=reference, **changes)


@pytest.fixture
def send(clinician, fabricator):
    """Sends a plain order under a reference."""
    return lambda reference: factories.order(clinician, fabricator.organisation, entry(reference))


def groups(client, **asked):
    """Each group of the page with its references."""
    return {
        group.key: [order.person.reference for order in group.orders]
        for group in client.get(URL, asked).context["groups"]
    }


def test_list_answers_reading_only(client_for, clinician):
    assert client_for(clinician).post(URL).status_code == 405


def test_stranger_is_sent_to_sign_in_and_a_workshop_finds_nothing(client_for, fabricator):
    assert client_for(None).get(URL)["Location"].startswith("/accounts/login/")
    assert client_for(fabricator).get(URL).status_code == 404


def test_other_clinic_sees_none_of_it(client_for, clinician, other_clinician, send):
    send("NF-1")

    assert groups(client_for(clinician)) == {"not-opened": ["NF-1"]}
    assert groups(client_for(other_clinician)) == {}
    assert groups(client_for(clinician), find="nf") == {"not-opened": ["NF-1"]}
    assert groups(client_for(other_clinician), find="nf") == {}


def test_orders_stand_by_what_they_wait_for(client_for, clinician, lead, fabricator, send):
    contested, queried, opened, confirmed = (send(f"NF-{n}") for n in (1, 2, 4, 5))
    send("NF-3")
    cancelled = send("NF-6")
    Order.objects.filter(id=contested.id).update(contested=True)
    moves.query(queried, fabricator, queried.current, "left", "girth", "Sure?")
    note_look(opened, fabricator)
    moves.confirm(confirmed, confirmed.current.seal.sha256, fabricator)
    moves.cancel(cancelled, clinician)

    assert groups(client_for(lead)) == {
        "pick": ["NF-1"],
        "reply": ["NF-2"],
        "not-opened": ["NF-3"],
        "opened": ["NF-4"],
        "confirmed": ["NF-5"],
    }
    assert groups(client_for(lead), show="cancelled") == {"cancelled": ["NF-6"]}
    assert groups(client_for(lead), find="nf-6") == {"cancelled": ["NF-6"]}


def test_order_opened_by_its_own_clinic_alone_is_not_opened_yet(client_for, clinician, send):
    note_look(send("NF-1"), clinician)

    assert groups(client_for(clinician)) == {"not-opened": ["NF-1"]}


def test_revision_sent_after_the_workshop_looked_is_not_opened_yet(client_for, clinician, fabricator, send):
    order = send("NF-1")
    note_look(order, fabricator)
    factories.correction(order, clinician, entry("NF-1", girth=["15", "15"]))

    assert groups(client_for(clinician)) == {"not-opened": ["NF-1"]}


def test_longest_asked_comes_first_and_says_how_long(client_for, clinician, fabricator, send):
    for reference, minutes in (("NF-1", 5), ("NF-2", 50)):
        order = send(reference)
        asked = moves.query(order, fabricator, order.current, "left", "girth", "Sure?")
        at = timezone.now() - timedelta(minutes=minutes)
        Query.objects.filter(id=asked.id).update(asked_at=at)
        Order.objects.filter(id=order.id).update(moved_at=at)

    answer = client_for(clinician).get(URL)

    assert groups(client_for(clinician)) == {"reply": ["NF-2", "NF-1"]}
    assert "50 min ago" in answer.content.decode()


def test_two_shells_name_both_sides(client_for, clinician, fabricator):
    factories.order(clinician, fabricator.organisation, entry("NF-1"), entry("NF-1", side="right"))

    text = client_for(clinician).get(URL).content.decode()

    assert "left, right" in text
    assert text.count('class="fg fg-mark"') == 2


def test_more_orders_make_no_more_queries(
    client_for, clinician, send, django_assert_num_queries, django_assert_max_num_queries
):
    client = client_for(clinician)
    send("NF-1")
    with django_assert_max_num_queries(20) as one:
        client.get(URL)

    for n in range(2, 7):
        send(f"NF-{n}")

    with django_assert_num_queries(len(one)):
        client.get(URL)


@pytest.mark.parametrize(("show", "first"), [("not-opened", "NF-0"), ("confirmed", "NF-4")])
def test_a_group_goes_on_from_page_to_page(client_for, clinician, fabricator, send, monkeypatch, show, first):
    monkeypatch.setattr(clinic_list, "GROUP_ROWS", 2)
    monkeypatch.setattr(clinic_list, "GROUP_ROWS_OF_ALL", 2)
    at = timezone.now()
    for n in range(5):
        order = send(f"NF-{n}")
        if show == "confirmed":
            moves.confirm(order, order.current.seal.sha256, fabricator)
        # The second and the third were moved at the same moment.
        Order.objects.filter(id=order.id).update(moved_at=at + timedelta(hours=n - (n == 2)))
    client, pages, address = client_for(clinician), [], URL
    while address:
        (group,) = client.get(address).context["groups"]
        pages.append([order.person.reference for order in group.orders])
        address = f"{URL}?show={show}&after={quote(group.follows)}" if group.follows else ""

    assert [len(page) for page in pages] == [2, 2, 1]
    assert pages[0][0] == first
    assert sorted(reference for page in pages for reference in page) == [f"NF-{n}" for n in range(5)]
    assert group.count == "5"


def test_overview_leads_to_a_group_s_next_page_and_back(client_for, clinician, send, monkeypatch):
    monkeypatch.setattr(clinic_list, "GROUP_ROWS_OF_ALL", 1)
    for n in range(2):
        send(f"NF-{n}")
    client = client_for(clinician)

    (group,) = client.get(URL).context["groups"]
    following = f"{URL}?show=not-opened&after={quote(group.follows)}"

    assert f'href="{following.replace("&", "&amp;")}"' in client.get(URL).content.decode()
    assert f'href="{URL}?show=not-opened">First page' in client.get(following).content.decode()


@pytest.mark.parametrize("after", ["", "x", "~", "2026-11-26T10:00:00~x", "2026-11-26~" + "0" * 32, "\x00"])
def test_a_place_that_is_none_starts_from_the_start(client_for, clinician, send, after):
    send("NF-1")

    assert groups(client_for(clinician), show="not-opened", after=after) == {"not-opened": ["NF-1"]}


def test_a_count_goes_no_further_than_it_is_told(client_for, clinician, send, monkeypatch):
    monkeypatch.setattr(clinic_list, "GROUP_ROWS_OF_ALL", 1)
    monkeypatch.setattr(bench, "COUNTED_MOST", 3)
    for n in range(4):
        send(f"NF-{n}")

    assert [group.count for group in client_for(clinician).get(URL).context["groups"]] == ["2+"]


def test_all_groups_together_show_less_of_each_than_one_alone(client_for, clinician, send, monkeypatch):
    monkeypatch.setattr(clinic_list, "GROUP_ROWS_OF_ALL", 1)
    for n in range(3):
        send(f"NF-{n}")
    client = client_for(clinician)

    assert groups(client) == {"not-opened": ["NF-0"]}
    assert groups(client, show="not-opened") == {"not-opened": ["NF-0", "NF-1", "NF-2"]}
    assert groups(client, find="NF") == {"not-opened": ["NF-0", "NF-1", "NF-2"]}


def test_a_count_looks_nothing_up_but_what_it_counts(client_for, clinician, fabricator, send, monkeypatch):
    monkeypatch.setattr(clinic_list, "GROUP_ROWS_OF_ALL", 1)
    for n in range(2):
        order = send(f"NF-{n}")
        moves.confirm(order, order.current.seal.sha256, fabricator)
    client = client_for(clinician)

    with CaptureQueriesContext(connection) as asked:
        client.get(URL)

    (count,) = [one["sql"] for one in asked if "COUNT(" in one["sql"]]
    assert "orders_revision" not in count
    assert "orders_query" not in count


def test_nothing_found_says_what_to_do(client_for, clinician):
    text = client_for(clinician).get(URL, {"find": "<b>"}).content.decode()

    assert "No order’s reference begins so" in text
    assert "<b></" not in text
    assert "&lt;b&gt;" in text


def test_lead_has_a_way_to_the_members_and_a_clinician_has_not(client_for, clinician, lead):
    link = f'href="{reverse("members")}"'

    assert link in client_for(lead).get(URL).content.decode()
    assert link not in client_for(clinician).get(URL).content.decode()


def test_orders_that_the_count_of_news_is_of_are_marked_and_shown_alone(
    client_for, clinician, fabricator, send
):
    confirmed, seen, _untouched = (send(f"NF-{n}") for n in (1, 2, 3))
    for order in (confirmed, seen):
        moves.confirm(order, order.current.seal.sha256, fabricator)
    note_look(seen, clinician)
    client = client_for(clinician)

    page = client.get(URL).content.decode()

    assert '1<span class="unseen"> orders with news' in page
    assert f'href="{URL}?show=news">1 order has news<' in page
    assert page.count("news: confirmed") == 1
    assert groups(client, show="news") == {"confirmed": ["NF-1"]}
    note_look(confirmed, clinician)
    assert "news: confirmed" not in client.get(URL).content.decode()
    assert "No news: somebody here has looked" in client.get(URL, {"show": "news"}).content.decode()


def test_a_cancelled_order_that_has_news_is_shown_among_the_news(client_for, clinician, fabricator, send):
    order = send("NF-1")
    moves.confirm(order, order.current.seal.sha256, fabricator)
    moves.cancel(order, clinician)

    assert groups(client_for(clinician)) == {}
    assert groups(client_for(clinician), show="news") == {"cancelled": ["NF-1"]}
