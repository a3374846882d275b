import re
import uuid

import pytest
import segno
from django.conf import settings
from django.urls import reverse

from capture import sync
from orders import handout, moves
from orders.models import Event, Handout, Look, Order
from tests import factories

pytestmark = pytest.mark.django_db
PLACES = ("clinic-order", "clinic-pick", "clinic-cancel", "handout-make", "handout-withdraw")


@pytest.fixture
def order(clinician, fabricator):
    return factories.order(clinician, fabricator.organisation)


@pytest.fixture
def confirmed(order, fabricator):
    moves.confirm(order, order.current.seal.sha256, fabricator)
    return order


@pytest.fixture
def contested(order, clinician):
    """An order at revision 2 with another seal of the same parent, whose girth is 15 in."""
    parent = order.current.seal.sha256
    factories.correction(order, clinician, factories.entry(length=["16"], second_route=None))
    rival = factories.seal(
        order.workshop,
        factories.entry(girth=["15", "15"]),
        order_id=order.id,
        parent=parent,
        visit_id=order.visit_id,
    )
    assert sync.take_seal(clinician, order.id, factories.hash_of(rival), rival)["outcome"] == "kept"
    order.refresh_from_db()
    assert order.contested
    return order


def url(name, order):
    return reverse(f"orders:{name}", args=[order.id])


def events(order, what):
    return Event.objects.filter(order_id=order.id, what=what).count()


def picking(order, seal):
    return {"current": order.current.seal.sha256, "seal": seal}


# Who may come in, and by which verb.


def test_each_endpoint_answers_its_own_verbs_only(client_for, clinician, confirmed):
    client = client_for(clinician)

    assert client.post(url("clinic-order", confirmed)).status_code == 405
    assert client.delete(url("clinic-cancel", confirmed)).status_code == 405
    for name in ("clinic-pick", "handout-make", "handout-withdraw"):
        assert client.get(url(name, confirmed)).status_code == 405
    assert Order.objects.get().state == "confirmed"
    assert not Handout.objects.exists()


@pytest.mark.parametrize("name", PLACES)
def test_stranger_is_sent_to_sign_in(client_for, confirmed, name):
    client = client_for(None)
    answer = (
        client.get(url(name, confirmed))
        if name in {"clinic-order", "clinic-cancel"}
        else client.post(url(name, confirmed))
    )

    assert answer.status_code == 302
    assert answer["Location"].startswith("/accounts/login/")


@pytest.mark.parametrize("name", PLACES)
def test_other_clinic_and_both_workshops_find_nothing(
    client_for, confirmed, other_clinician, fabricator, other_fabricator, name
):
    for member in (other_clinician, fabricator, other_fabricator):
        client = client_for(member)
        if name in {"clinic-order", "clinic-cancel"}:
            assert client.get(url(name, confirmed)).status_code == 404
        if name != "clinic-order":
            assert (
                client.post(url(name, confirmed), {"state": "confirmed", "replaces": ""}).status_code == 404
            )
    assert Order.objects.get().state == "confirmed"
    assert not Handout.objects.exists()
    assert not Look.objects.exists()


@pytest.mark.parametrize("name", ["clinic-pick", "clinic-cancel", "handout-make", "handout-withdraw"])
def test_form_from_elsewhere_is_refused(client_for, clinician, confirmed, name):
    answer = client_for(clinician, enforce_csrf_checks=True).post(
        url(name, confirmed), {"state": "confirmed"}
    )

    assert answer.status_code == 403
    assert Order.objects.get().state == "confirmed"


def test_order_and_revision_that_are_not_there_are_404(client_for, clinician, order):
    client = client_for(clinician)

    assert client.get(reverse("orders:clinic-order", args=[uuid.uuid4()])).status_code == 404
    for number in ("2", "0", "x", "1.0"):
        assert client.get(url("clinic-order", order), {"revision": number}).status_code == 404


# The page.


def test_clinician_and_lead_read_state_figures_flags_and_history(client_for, clinician, lead, order):
    for member in (clinician, lead):
        text = client_for(member).get(url("clinic-order", order)).content.decode()
        assert f'<span class="tag state">{order.get_state_display()}</span>' in text
        assert "<b>381</b> mm" in text
        assert 'class="fg fg-scale"' in text
        assert order.workshop.name in text
        assert "Sent" in text
    assert {look.member_id for look in Look.objects.all()} == {clinician.id, lead.id}


def test_open_query_stands_with_a_way_to_reply_on_the_phone(client_for, clinician, fabricator, order):
    asked = moves.query(order, fabricator, order.current, "left", "girth", "Which <leg> was it?")

    text = client_for(clinician).get(url("clinic-order", order)).content.decode()

    assert "Which &lt;leg&gt; was it?" in text
    assert f'href="/visits/#order/{order.id}/reply/{asked.id}"' in text
    assert "waits for your reply" in text


def test_replied_and_withdrawn_queries_stay_readable_without_a_button(
    client_for, clinician, fabricator, order
):
    replied = moves.query(order, fabricator, order.current, "left", "girth", "Sure?")
    withdrawn = moves.query(order, fabricator, order.current, "left", "length", "Never mind?")
    moves.withdraw(order, withdrawn, fabricator)
    receipt = factories.correction(
        order,
        clinician,
        factories.entry(girth=["15", "15"]),
        replies=[{"query": str(replied.id), "says": "No: 15."}],
    )
    assert receipt["outcome"] == "ordered"

    text = client_for(clinician).get(url("clinic-order", order)).content.decode()

    assert "Sure?" in text
    assert "No: 15." in text
    assert "made revision 2" in text
    assert "Never mind?" in text
    assert "#order/" not in text
    assert "Changed since revision 1" in text


def test_older_revision_says_that_it_is_not_the_one_that_counts(client_for, clinician, order):
    factories.correction(order, clinician, factories.entry(girth=["15", "15"]))

    text = client_for(clinician).get(url("clinic-order", order), {"revision": "1"}).content.decode()

    assert "Revision 2 has taken its place." in text


# Two versions.


def test_both_versions_are_shown_with_what_differs(client_for, clinician, contested):
    text = client_for(clinician).get(url("clinic-order", contested)).content.decode()

    assert "Two versions: pick the one that counts" in text
    assert "Keep revision 2" in text
    assert "Take the other version" in text
    assert re.search(r"Girth, outside, at the widest</th><td>375 mm</td><td>381 mm</td>", text)


def test_picking_the_other_version_makes_it_the_next_revision(client_for, clinician, contested):
    rival = contested.rivals.get().seal.sha256

    answer = client_for(clinician).post(url("clinic-pick", contested), picking(contested, rival))

    assert answer.status_code == 302
    contested.refresh_from_db()
    assert not contested.contested
    assert contested.current.number == 3
    assert contested.current.seal.sha256 == rival


def test_keeping_the_current_version_settles_it(client_for, clinician, contested):
    kept = contested.current.seal.sha256

    assert (
        client_for(clinician).post(url("clinic-pick", contested), picking(contested, kept)).status_code == 302
    )

    contested.refresh_from_db()
    assert not contested.contested
    assert contested.current.seal.sha256 == kept
    assert contested.rivals.filter(settled_at=None).count() == 0


@pytest.mark.parametrize("stale", ["current", "seal"])
def test_picking_what_is_no_longer_so_changes_nothing(client_for, clinician, contested, stale):
    asked = {**picking(contested, contested.rivals.get().seal.sha256), stale: "0" * 64}

    answer = client_for(clinician).post(url("clinic-pick", contested), asked)

    assert answer.status_code == 409
    assert "Nothing was picked." in answer.content.decode()
    assert Order.objects.get().contested
    assert events(contested, "pick") == 0


def test_picking_twice_is_told_the_second_time(client_for, clinician, contested):
    client, asked = client_for(clinician), picking(contested, contested.rivals.get().seal.sha256)

    assert client.post(url("clinic-pick", contested), asked).status_code == 302
    assert client.post(url("clinic-pick", contested), asked).status_code == 409
    assert events(contested, "pick") == 1


def test_version_that_came_after_confirming_is_shown_and_moves_nothing(client_for, clinician, confirmed):
    late = factories.seal(
        confirmed.workshop,
        factories.entry(girth=["15", "15"]),
        order_id=confirmed.id,
        parent=confirmed.current.seal.sha256,
        visit_id=confirmed.visit_id,
    )
    sync.take_seal(clinician, confirmed.id, factories.hash_of(late), late)

    text = client_for(clinician).get(url("clinic-order", confirmed)).content.decode()

    assert "Another version came too late" in text
    assert "Take the other version" not in text


# Cancelling.


def test_cancelling_asks_first(client_for, clinician, order):
    answer = client_for(clinician).get(url("clinic-cancel", order))

    assert answer.status_code == 200
    assert (
        "can&#x27;t be taken back" in answer.content.decode()
        or "can't be taken back" in answer.content.decode()
    )
    assert Order.objects.get().state == "sent"


def test_confirmed_order_is_cancelled_and_its_link_stops(client_for, clinician, confirmed):
    _made, token = handout.make(confirmed, clinician)
    page = client_for(clinician).get(url("clinic-cancel", confirmed)).content.decode()
    assert "may be about to begin" in page

    answer = client_for(clinician).post(url("clinic-cancel", confirmed), {"state": "confirmed"})

    assert answer.status_code == 302
    assert Order.objects.get().state == "cancelled"
    assert client_for(None).get(reverse("orders:handout", args=[token])).status_code == 410


def test_order_that_was_confirmed_meanwhile_is_not_cancelled_unread(client_for, clinician, confirmed):
    answer = client_for(clinician).post(url("clinic-cancel", confirmed), {"state": "sent"})

    assert answer.status_code == 409
    assert "Nothing was cancelled." in answer.content.decode()
    assert Order.objects.get().state == "confirmed"


def test_cancelled_order_offers_nothing_and_refuses_everything(client_for, clinician, order):
    client = client_for(clinician)
    client.post(url("clinic-cancel", order), {"state": "sent"})

    text = client.get(url("clinic-order", order)).content.decode()
    assert "Cancel this order" not in text
    assert "Make the link" not in text
    assert client.get(url("clinic-cancel", order)).status_code == 409
    assert client.post(url("clinic-cancel", order), {"state": "cancelled"}).status_code == 409
    assert client.post(url("handout-make", order), {"replaces": ""}).status_code == 409
    assert events(order, "cancel") == 1


# The handout's link.


def test_link_is_offered_from_confirmed_on(client_for, clinician, fabricator, order):
    client = client_for(clinician)
    assert "Make the link" not in client.get(url("clinic-order", order)).content.decode()
    refused = client.post(url("handout-make", order), {"replaces": ""})
    assert refused.status_code == 409
    assert "once the workshop has confirmed" in refused.content.decode()
    assert not Handout.objects.exists()

    moves.confirm(order, order.current.seal.sha256, fabricator)

    assert "Make the link" in client.get(url("clinic-order", order)).content.decode()


def made_link(client, order, replaces=""):
    answer = client.post(url("handout-make", order), {"replaces": replaces})
    assert answer.status_code == 200
    return answer, answer.context["link"]


def test_link_is_shown_once_as_text_and_square_code_and_opens(client_for, clinician, confirmed):
    client = client_for(clinician)
    answer, link = made_link(client, confirmed)
    text = answer.content.decode()

    assert link.startswith(settings.SITE_ADDRESS)
    assert f'value="{link}"' in text
    assert modules_drawn(text) == [list(row) for row in segno.make(link, error="m", micro=False).matrix]
    assert "no-store" in answer["Cache-Control"]
    assert client_for(None).get("/" + link.split("/", 3)[3]).status_code == 200
    token = link.rstrip("/").rsplit("/", 1)[1]
    assert token not in client.get(url("clinic-order", confirmed)).content.decode()
    assert token not in str(list(Event.objects.values())) + str(list(Handout.objects.values()))


def test_link_is_made_in_the_language_that_the_person_reads(client_for, clinician, confirmed):
    client = client_for(clinician)
    page = client.get(url("clinic-order", confirmed)).content.decode()
    assert '<option value="ar" lang="ar">العربية</option>' in page

    answer = client.post(url("handout-make", confirmed), {"replaces": "", "language": "fr"})

    assert "Français" in answer.content.decode()
    assert Handout.objects.get().language == "fr"
    assert "Français" in client.get(url("clinic-order", confirmed)).content.decode()


def test_a_language_without_texts_makes_no_link(client_for, clinician, confirmed):
    answer = client_for(clinician).post(url("handout-make", confirmed), {"replaces": "", "language": "xx"})

    assert answer.status_code == 404
    assert not Handout.objects.exists()


def modules_drawn(html):
    """The square code's modules as its path draws them: level runs ("h") from where the pen is moved to."""
    view = int(re.search(r'viewBox="0 0 (\d+) \1" class="square-code"', html)[1])
    path = re.search(r'class="square-dark"[^>]* d="([^"]*)"', html)[1]
    size, quiet = view - 8, 4
    rows = [[0] * size for _row in range(size)]
    x = y = 0.0
    for letter, numbers in re.findall(r"([Mmh])([-\d. ]*)", path):
        steps = [float(number) for number in numbers.split()]
        if letter == "h":
            for column in range(int(x), int(x + steps[0])):
                rows[int(y - 0.5) - quiet][column - quiet] = 1
            x += steps[0]
        else:
            x, y = (steps[0], steps[1]) if letter == "M" else (x + steps[0], y + steps[1])
    return rows


def test_page_with_the_link_has_no_style_of_its_own(client_for, clinician, confirmed):
    text = made_link(client_for(clinician), confirmed)[0].content.decode()

    assert " style=" not in text
    assert "<style" not in text


def test_who_made_the_link_and_when_stays_to_be_seen(client_for, clinician, lead, confirmed):
    made_link(client_for(clinician), confirmed)

    text = client_for(lead).get(url("clinic-order", confirmed)).content.decode()

    assert "A link is open." in text
    assert "T. M., " in text
    assert Handout.objects.get().made_by == clinician
    assert events(confirmed, "handout made") == 1


def test_same_form_sent_twice_does_not_stop_the_link_just_made(client_for, clinician, confirmed):
    client = client_for(clinician)
    _answer, link = made_link(client, confirmed)

    again = client.post(url("handout-make", confirmed), {"replaces": ""})

    assert again.status_code == 409
    assert "No link was made." in again.content.decode()
    assert client_for(None).get("/" + link.split("/", 3)[3]).status_code == 200
    assert Handout.objects.count() == 1


def test_replacing_stops_the_old_link(client_for, clinician, confirmed):
    client = client_for(clinician)
    _first, old = made_link(client, confirmed)
    page = client.get(url("clinic-order", confirmed)).content.decode()
    assert "replaces the old one, which stops at once" in page

    _second, new = made_link(client, confirmed, replaces=str(Handout.objects.get().id))

    stranger = client_for(None)
    assert stranger.get("/" + old.split("/", 3)[3]).status_code == 410
    assert stranger.get("/" + new.split("/", 3)[3]).status_code == 200


def test_withdrawing_stops_the_link_and_twice_is_said(client_for, clinician, confirmed):
    client = client_for(clinician)
    _answer, link = made_link(client, confirmed)

    first = client.post(url("handout-withdraw", confirmed), follow=True)
    second = client.post(url("handout-withdraw", confirmed), follow=True)

    assert "The handout&#x27;s link is withdrawn." in first.content.decode()
    assert "There was no open link to withdraw." in second.content.decode()
    assert client_for(None).get("/" + link.split("/", 3)[3]).status_code == 410
    assert events(confirmed, "handout withdrawn") == 1


def test_workshop_still_reads_an_order_with_a_handout(client_for, clinician, fabricator, confirmed):
    made_link(client_for(clinician), confirmed)
    workshop = client_for(fabricator)

    assert "Handout link made" in workshop.get(reverse("orders:order", args=[confirmed.id])).content.decode()
    assert workshop.get(reverse("orders:bench")).status_code == 200
