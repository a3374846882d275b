import uuid
from datetime import timedelta

import pytest
from django.utils import timezone, translation

from orders import handout, moves
from orders.models import Event, Mail, Problem
from orders.models.event import chain_breaks
from orders.news import news_of
from orders.problems import MOST_A_DAY, SIGNS, TooMany, problems_of, report
from tests import factories

pytestmark = pytest.mark.django_db


@pytest.fixture
def order(clinician, fabricator):
    made = factories.order(clinician, fabricator.organisation)
    moves.confirm(made, made.current.seal.sha256, fabricator)
    return made


@pytest.fixture
def link(order, clinician):
    return handout.make(order, clinician)[0]


def told(link, *signs, text=""):
    return report(link, uuid.uuid4(), signs, text)


def test_it_hangs_on_its_order_with_an_event_that_holds_no_words(order, link):
    problem = told(link, "skin", "catches", text="Above the ankle.")

    assert (problem.order, problem.handout) == (order, link)
    assert problem.signs == ["catches", "skin"]  # as the page lists them
    event = Event.objects.last()
    assert (event.order_id, event.what, event.member_id) == (order.id, "problem", None)
    assert event.detail == {"problem": str(problem.id)}
    assert chain_breaks() == []


def test_who_sent_the_order_is_told_and_nobody_else(clinician, lead, fabricator, link):
    Mail.objects.all().delete()

    told(link, "cracks")

    assert list(Mail.objects.values_list("to", "what")) == [(clinician.id, "problem")]
    assert news_of(clinician) == {link.order_id: "problem"}
    assert news_of(fabricator) == {}


def test_a_form_sent_twice_is_one_report(link):
    form, before = uuid.uuid4(), Mail.objects.count()

    first, second = (report(link, form, ["foot"], "At every step.") for _time in range(2))

    assert first == second
    assert Problem.objects.count() == 1
    assert Mail.objects.count() == before + 1


def test_another_link_may_use_the_same_forms_number(clinician, fabricator, link):
    other = handout.make(factories.order(clinician, fabricator.organisation), clinician)[0]
    form = uuid.uuid4()

    assert report(link, form, ["foot"], "") != report(other, form, ["foot"], "")


def test_a_link_takes_only_so_many_in_a_day(link):
    for _time in range(MOST_A_DAY):
        told(link, "moves")
    before = Mail.objects.count(), Event.objects.count()

    with pytest.raises(TooMany):
        told(link, "moves")

    assert (Problem.objects.count(), Mail.objects.count(), Event.objects.count()) == (MOST_A_DAY, *before)
    Problem.objects.update(reported_at=timezone.now() - timedelta(days=1, seconds=1))
    assert told(link, "moves")


def test_what_is_on_no_list_is_left_out(link):
    assert told(link, "strap", "colour").signs == ["strap"]


def test_the_clinic_reads_the_newest_first_in_its_own_language(order, link):
    told(link, "catches", text="Since Monday.")
    told(link, "other")

    with translation.override("de"):
        newest, oldest = problems_of(order)

    assert (newest.signs, newest.text) == (["etwas anderes"], "")
    assert (oldest.signs, oldest.text) == (["das Bein hängen bleibt"], "Since Monday.")


def test_every_sign_that_says_stop_can_be_reported():
    """The signs of product.md's cautions, as the page's own list of when to stop has them."""
    from django.template.loader import render_to_string

    page = render_to_string("orders/_handout_stop.html")

    listed = [words for words in SIGNS.values() if f"<li>{words}</li>" in page]
    assert len(listed) == page.count("<li>") == 6
    assert listed == list(SIGNS.values())[:6]
