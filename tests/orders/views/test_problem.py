import io
import logging
import re
import uuid

import pytest
from django.test import Client
from django.urls import reverse

from orders import handout, moves
from orders.models import Problem
from orders.problems import MOST_A_DAY
from tests import factories

pytestmark = pytest.mark.django_db


@pytest.fixture
def order(clinician, fabricator):
    made = factories.order(clinician, fabricator.organisation)
    moves.confirm(made, made.current.seal.sha256, fabricator)
    return made


@pytest.fixture
def token(order, clinician):
    return handout.make(order, clinician)[1]


def sent(client, token, **said):
    said = {"sent_as": str(uuid.uuid4())} | said
    return client.post(reverse("orders:problem-report", args=[token]), said)


def clinic_reads(client_for, member, order):
    return client_for(member).get(reverse("orders:clinic-order", args=[order.id])).content.decode()


def test_the_person_tells_and_the_clinic_alone_reads(
    client, client_for, order, token, clinician, lead, fabricator
):
    answer = sent(client, token, signs=["catches", "skin"], text="Since Monday <b>, on stairs.")

    assert (answer.status_code, answer.url) == (302, reverse("orders:problem-told", args=[token]))
    told = client.get(answer.url).content.decode()
    assert "The clinic has been told" in told
    assert "Leave the shell off until they have called you." in told
    assert "Your leg works without the shell." in told
    for member in (clinician, lead):
        page = clinic_reads(client_for, member, order)
        assert "the leg catches" in page
        assert "Since Monday &lt;b&gt;, on stairs." in page
        assert "the person, by their link" in page
    bench = client_for(fabricator).get(reverse("orders:order", args=[order.id])).content.decode()
    assert "A problem reported" in bench
    assert "Since Monday" not in bench
    assert "the leg catches" not in bench


def test_it_stands_first_on_the_clinics_list_until_it_is_read(client, client_for, order, token, clinician):
    sent(client, token, signs=["cracks"])

    address = reverse("orders:clinic-orders")
    page = client_for(clinician).get(address).content.decode()

    first = page[page.index("<section") :]
    assert first.startswith('<section aria-labelledby="group-problem">')
    assert "A problem is reported" in first
    assert "news: problem reported" in first
    assert clinic_reads(client_for, clinician, order)  # and with that it is read
    assert "A problem is reported" not in client_for(clinician).get(address).content.decode()


def test_no_cookie_is_needed_and_none_is_given(token):
    browser = Client(enforce_csrf_checks=True)
    page = browser.get(reverse("orders:handout", args=[token]))
    number = re.search(r'name="sent_as" value="([0-9a-f-]{36})"', page.content.decode())[1]

    answer = sent(browser, token, sent_as=number, signs=["foot"])

    assert answer.status_code == 302
    assert not browser.cookies
    assert Problem.objects.get().sent_as == uuid.UUID(number)


def test_nothing_said_comes_back_with_why(client, token):
    answer = sent(client, token, text="   ")

    assert answer.status_code == 400
    assert "Tick what is wrong, or write it down." in answer.content.decode()
    assert not Problem.objects.exists()


def test_what_is_too_long_comes_back_as_it_was(client, token):
    typed = "red " * 150

    answer = sent(client, token, signs=["skin"], text=typed)

    page = answer.content.decode()
    assert answer.status_code == 400
    assert "That is too long: 599 letters. Use at most 500." in page
    assert typed.strip() in page
    assert re.search(r'value="skin"[^>]* checked', page)


@pytest.mark.parametrize("said", [{"sent_as": "x"}, {"sent_as": ""}, {"signs": ["everything"]}])
def test_nonsense_is_refused_and_keeps_nothing(client, token, said):
    assert sent(client, token, **({"text": "It slips."} | said)).status_code == 400
    assert not Problem.objects.exists()


def test_too_many_in_a_day_are_asked_to_call(client, token):
    for _time in range(MOST_A_DAY):
        assert sent(client, token, signs=["moves"]).status_code == 302

    answer = sent(client, token, signs=["moves"], text="Still.")

    assert answer.status_code == 429
    assert "You have told the clinic many times today. Call them." in answer.content.decode()
    assert "Still." in answer.content.decode()


@pytest.mark.parametrize("name", ["problem-report", "problem-told"])
@pytest.mark.parametrize(("which", "status"), [("wrong", 404), ("withdrawn", 410)])
def test_a_dead_link_tells_nobody(client, order, clinician, token, name, which, status):
    if which == "withdrawn":
        handout.withdraw_all(order, clinician)
    address = reverse(f"orders:{name}", args=["wrong" if which == "wrong" else token])
    ask = client.get if name == "problem-told" else client.post

    assert ask(address, {"sent_as": str(uuid.uuid4()), "signs": ["foot"]}).status_code == status
    assert not Problem.objects.exists()


def test_it_is_told_to_nobody_else_and_logged_without_the_link(client, token):
    console = logging.getLogger().handlers[0]
    before = console.setStream(io.StringIO())
    answers = [sent(client, token), sent(client, "wrong", signs=["foot"])]
    logged = console.setStream(before).getvalue()

    for answer in answers:
        assert answer["Referrer-Policy"] == "no-referrer"
        assert "no-store" in answer["Cache-Control"]
        assert token not in answer.content.decode()
    assert token not in logged
    assert client.get(reverse("orders:problem-report", args=[token])).status_code == 405


def test_it_is_asked_and_answered_in_the_persons_language(client, order, clinician):
    token = handout.make(order, clinician, "ar")[1]

    refused, kept = sent(client, token), sent(client, token, signs=["other"])

    assert 'dir="rtl"' in refused.content.decode()
    assert "ضع علامة على المشكلة أو اكتبها." in refused.content.decode()
    assert "تم إبلاغ العيادة" in client.get(kept.url).content.decode()
