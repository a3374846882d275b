"""What is sent after the session has ended is kept for its member, through signing in as it really is done."""

import html
import re
from datetime import timedelta
from urllib.parse import parse_qs, urlsplit

import pytest
from django.contrib.sessions.models import Session
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from orders.models import Query
from project import kept_forms
from tests import factories

pytestmark = pytest.mark.django_db
PASSWORD = "four words for one test"
KEPT = "/kept/"


@pytest.fixture(autouse=True)
def without_second_factor(settings):
    settings.SECOND_FACTOR = False


@pytest.fixture
def order(clinician, fabricator):
    return factories.order(clinician, fabricator.organisation)


def sign_in(client, member, after="/"):
    member.user.set_password(PASSWORD)
    member.user.save()
    said = {"login": member.user.email, "password": PASSWORD, "next": after}
    return client.post(reverse("account_login"), said)


@pytest.fixture
def ended(fabricator):
    """A browser whose member was signed in, until the session ended."""
    client = Client()
    sign_in(client, fabricator)
    client.get("/bench/")
    Session.objects.all().delete()
    return client


def ask(client, order, **said):
    question = {
        "revision": order.current.number,
        "side": "left",
        "field": "girth",
        "text": "Over <b>a stocking</b>?",
        "proposed": "",
    }
    return client.post(reverse("orders:query-ask", args=[order.id]), question | said)


def after_signing_in(answer):
    """Where a signed-out answer leads once somebody has signed in."""
    assert answer.status_code == 302
    assert urlsplit(answer.url).path == reverse("account_login")
    return parse_qs(urlsplit(answer.url).query)["next"][0]


def typed_on(page):
    """The hidden fields of a page, but for the token of its own."""
    found = re.findall(r'<input type="hidden" name="([^"]+)" value="([^"]*)">', page)
    return {name: value for name, value in found if name != kept_forms.TOKEN}


def test_what_was_sent_is_offered_after_signing_in_and_sent_by_a_tap(ended, order, fabricator):
    where = after_signing_in(ask(ended, order))
    told = ended.get(reverse("account_login")).content.decode()
    answer = sign_in(ended, fabricator, where)

    assert "What you sent is kept" in told
    assert (where, answer.url) == (KEPT, KEPT)
    page = ended.get(KEPT).content.decode()
    typed = typed_on(page)
    assert typed["text"] == "Over &lt;b&gt;a stocking&lt;/b&gt;?"
    assert f'action="{reverse("orders:query-ask", args=[order.id])}"' in page
    assert not Query.objects.exists()
    typed = {name: html.unescape(value) for name, value in typed.items()}
    assert ended.post(reverse("orders:query-ask", args=[order.id]), typed).status_code == 302
    assert Query.objects.get().text == "Over <b>a stocking</b>?"
    assert ended.get(KEPT).url == "/"  # sent, so it waits no more


def test_the_token_of_the_session_that_ended_is_not_sent_again(ended, order, fabricator):
    ask(ended, order, **{kept_forms.TOKEN: "old"})
    sign_in(ended, fabricator)

    assert 'value="old"' not in ended.get(KEPT).content.decode()


def test_somebody_else_who_signs_in_is_not_shown_it(ended, order, other_fabricator):
    ask(ended, order)
    sign_in(ended, other_fabricator, KEPT)

    assert ended.get(KEPT).url == "/"


def test_it_can_be_let_go(ended, order, fabricator):
    ask(ended, order)
    sign_in(ended, fabricator, KEPT)

    assert ended.post(KEPT).url == "/"
    assert ended.get(KEPT).url == "/"
    assert not Query.objects.exists()


def test_several_values_of_one_name_are_all_kept_and_a_file_is_asked_for_again(ended, fabricator):
    file = SimpleUploadedFile("catalogue.json", b"{}")
    ended.post(reverse("orders:catalogue-read-in"), {"walls": ["a", "b"], "file": file})
    sign_in(ended, fabricator, KEPT)

    page = ended.get(KEPT).content.decode()

    assert re.findall(r'name="walls" value="(\w)"', page) == ["a", "b"]
    assert "The file that went with it has to be chosen again." in page


def test_reading_leads_back_to_where_it_was(ended, order):
    address = reverse("orders:order", args=[order.id])

    assert after_signing_in(ended.get(address)) == address


@pytest.mark.parametrize("cookie", [None, "", "x", "7c9e6679-7425-40de-944b-e07fc1f90ae7"])
def test_of_a_browser_that_names_no_member_nothing_is_kept(order, settings, cookie):
    client = Client()
    if cookie is not None:
        client.cookies[settings.MEMBER_COOKIE_NAME] = cookie

    assert after_signing_in(ask(client, order)) == reverse("orders:query-ask", args=[order.id])
    assert not Session.objects.exists()


@pytest.mark.parametrize(("more", "kept"), [(0, True), (1, False)])
def test_so_much_is_kept_and_no_more(ended, order, fabricator, more, kept):
    said = {"revision": "", "side": "", "field": "", "proposed": "", "text": ""}
    letters = kept_forms.MOST_LETTERS - sum(len(name) for name in said)

    answer = ask(ended, order, **(said | {"text": "r" * (letters + more)}))

    assert (after_signing_in(answer) == KEPT) is kept


def test_it_lies_here_for_an_hour_and_the_session_after_as_long_as_any(ended, order, fabricator, settings):
    ask(ended, order)
    hour = Session.objects.get().expire_date - timezone.now()
    sign_in(ended, fabricator, KEPT)
    ended.get(KEPT)
    after = Session.objects.get().expire_date - timezone.now()

    assert timedelta(seconds=kept_forms.LASTS_S - 60) < hour <= timedelta(seconds=kept_forms.LASTS_S)
    assert after > timedelta(seconds=settings.SESSION_COOKIE_AGE - 60)


def test_a_stranger_is_sent_to_sign_in(client):
    assert after_signing_in(client.get(KEPT)) == KEPT
