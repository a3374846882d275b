import pytest
from django.urls import reverse

from capture.models import Photo
from orders import moves
from orders.models import Order, Query
from tests import factories

QUESTION = {"revision": "1", "side": "left", "field": "length", "text": "Is 15 1/2 taken to the rim?"}


@pytest.fixture
def order(clinician, fabricator):
    return factories.order(clinician, fabricator.organisation)


def ask_address(order):
    return reverse("orders:query-ask", args=[order.id])


def withdraw_address(order, query):
    return reverse("orders:query-withdraw", args=[order.id, query.id])


def test_the_form_says_what_it_asks_about(client_for, fabricator, order):
    answer = client_for(fabricator).get(ask_address(order), {**QUESTION, "text": ""})

    page = answer.content.decode()
    assert answer.status_code == 200
    assert f"Ask about {order.person.reference}" in page
    assert '<option value="length" selected>Length: 15 1/2 in</option>' in page
    assert order.clinic.name in page
    assert answer.context["form"]["revision"].value() == 1


def test_figure_offers_the_entries_that_it_rests_on_first(client_for, fabricator, order):
    answer = client_for(fabricator).get(ask_address(order), {**QUESTION, "field": "finished_length_mm"})

    name, near = answer.context["form"].fields["field"].choices[0]
    assert name == "What this rests on"
    assert [field for field, _says in near] == ["length", "gap", "foot.ankle"]


def test_row_gets_the_form_alone(client_for, fabricator, order):
    answer = client_for(fabricator).get(ask_address(order), QUESTION, headers={"HX-Request": "true"})

    page = answer.content.decode()
    assert page.startswith('<form class="ask-form"')
    assert 'id="left-length-text"' in page


@pytest.mark.parametrize("wrong", [{"side": "right"}, {"field": "person.stature"}, {"field": ""}])
def test_row_that_is_not_there_offers_nothing(client_for, fabricator, order, wrong):
    assert client_for(fabricator).get(ask_address(order), {**QUESTION, **wrong}).status_code == 404


def test_a_question_sends_the_order_back(client_for, fabricator, order):
    answer = client_for(fabricator).post(ask_address(order), QUESTION)

    query = Query.objects.get()
    assert answer.url == reverse("orders:order", args=[order.id]) + f"#query-{query.id}"
    assert (query.side, query.field, query.text) == ("left", "length", QUESTION["text"])
    assert (query.asked_by, query.revision.number) == (fabricator, 1)
    assert Order.objects.get(id=order.id).state == "queried"


def test_the_page_shows_the_thread_with_the_reply(client_for, clinician, fabricator, order):
    client = client_for(fabricator)
    client.post(ask_address(order), QUESTION)
    waiting = client.get(reverse("orders:order", args=[order.id])).content.decode()
    assert QUESTION["text"] in waiting
    assert "waits for the clinic" in waiting
    assert "Confirm revision" not in waiting

    replies = [{"query": str(Query.objects.get().id), "says": "It was the collar."}]
    factories.correction(
        order, clinician, factories.entry(length=["15 3/4"], second_route=None), replies=replies
    )
    page = client.get(reverse("orders:order", args=[order.id])).content.decode()

    assert "It was the collar." in page
    assert "made revision 2" in page
    assert "<s>381</s>" in page  # the finished length before the reply: 393.7 − 12.7
    assert "Confirm revision 2" in page


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"text": ""}, "Write what you want to know."),
        ({"text": "?"}, "in a few words"),
        ({"text": "x" * 501}, "under 500 characters"),
        ({"field": "knee.colour"}, "no such answer"),
        (
            {"field": "foot.hardware_above_rim"},
            "no such answer",
        ),  # of the contract, but this entry hasn't got it
        ({"field": "finished_length_mm"}, "no such answer"),
        ({"field": "answers"}, "no such answer"),
        ({"field": "photo:" + "0" * 64}, "no such photo"),
        ({"field": ""}, "Choose what the question is about."),
        ({"side": "right"}, "no shell on that side"),
        ({"side": ""}, "Which shell it is about is missing."),
    ],
)
def test_what_cannot_be_asked_is_said_and_the_words_stay(client_for, fabricator, order, changes, says):
    asked = {**QUESTION, **changes}

    answer = client_for(fabricator).post(ask_address(order), asked)

    page = answer.content.decode()
    assert answer.status_code == 422
    assert says in page
    assert asked["text"] in page
    assert not Query.objects.exists()
    assert Order.objects.get(id=order.id).state == "sent"


def test_a_photo_that_the_seal_names_can_be_asked_about(client_for, clinician, fabricator):
    photo = {"sha256": "ab" * 32, "bytes": 5, "view": "side", "entry": 0}
    Photo.objects.create(
        clinic=clinician.organisation, sha256=photo["sha256"], bytes=5, state="set_aside", reason="empty"
    )
    order = factories.order(clinician, fabricator.organisation, photos=[photo])

    opened = (
        client_for(fabricator)
        .get(ask_address(order), {**QUESTION, "field": f"photo:{photo['sha256']}"})
        .content.decode()
    )
    assert "selected>Photo, side</option>" in opened

    client_for(fabricator).post(ask_address(order), {**QUESTION, "field": f"photo:{photo['sha256']}"})

    assert Query.objects.get().field == f"photo:{photo['sha256']}"


def test_a_question_about_a_replaced_revision_is_not_sent_but_kept(client_for, clinician, fabricator, order):
    factories.correction(order, clinician, factories.entry(length=["15 3/4"], second_route=None))

    answer = client_for(fabricator).post(ask_address(order), QUESTION)

    page = answer.content.decode()
    assert answer.status_code == 409
    assert "Your question was not sent" in page
    assert QUESTION["text"] in page
    assert 'name="revision" value="2"' in page
    assert "15 3/4" in page
    assert not Query.objects.exists()


def test_nothing_is_asked_of_a_confirmed_order(client_for, fabricator, order):
    moves.confirm(order, order.current.seal.sha256, fabricator)

    answer = client_for(fabricator).post(ask_address(order), QUESTION)

    assert answer.status_code == 409
    page = answer.content.decode()
    assert "was confirmed by" in page
    assert QUESTION["text"] in page
    assert "Ask the clinic</button>" not in page
    assert not Query.objects.exists()


def test_a_question_is_withdrawn_once(client_for, fabricator, order):
    client = client_for(fabricator)
    client.post(ask_address(order), QUESTION)
    query = Query.objects.get()

    answers = [client.post(withdraw_address(order, query)) for _time in range(2)]

    assert [answer.status_code for answer in answers] == [302, 302]
    assert answers[0].url.endswith(f"#query-{query.id}")
    query.refresh_from_db()
    assert query.state == "withdrawn"
    assert Order.objects.get(id=order.id).state == "sent"


def test_a_question_of_another_order_is_as_nothing(client_for, clinician, fabricator, order):
    client = client_for(fabricator)
    client.post(ask_address(order), QUESTION)
    other = factories.order(clinician, fabricator.organisation, factories.entry(reference="T-0002"))

    assert client.post(withdraw_address(other, Query.objects.get())).status_code == 404


def test_a_revision_that_does_not_exist_is_as_nothing(client_for, fabricator, order):
    assert client_for(fabricator).get(ask_address(order), {**QUESTION, "revision": "9"}).status_code == 404


def test_the_wrong_verb_is_refused(client_for, fabricator, order):
    client = client_for(fabricator)
    client.post(ask_address(order), QUESTION)

    assert client.get(withdraw_address(order, Query.objects.get())).status_code == 405
    assert client.put(ask_address(order)).status_code == 405


def test_nobody_else_asks_or_withdraws(client_for, clinician, other_fabricator, fabricator, order):
    client_for(fabricator).post(ask_address(order), QUESTION)
    query = Query.objects.get()

    for member in (clinician, other_fabricator):
        assert client_for(member).post(ask_address(order), QUESTION).status_code == 404
        assert client_for(member).post(withdraw_address(order, query)).status_code == 404
    assert client_for().post(ask_address(order), QUESTION).status_code == 302
    query.refresh_from_db()
    assert query.state == "open"


def test_one_press_that_arrives_twice_asks_once(client_for, fabricator, order):
    client = client_for(fabricator)

    answers = [client.post(ask_address(order), QUESTION) for _time in range(2)]

    query = Query.objects.get()
    assert [answer.url for answer in answers] == [answers[0].url] * 2
    assert answers[0].url.endswith(str(query.id))


def test_order_in_two_versions_is_not_asked_about(client_for, fabricator, order):
    Order.objects.filter(id=order.id).update(contested=True)

    answer = client_for(fabricator).post(ask_address(order), QUESTION)

    assert answer.status_code == 409
    assert "must pick one" in answer.content.decode()
    assert not Query.objects.exists()


def test_question_that_was_answered_meanwhile_is_not_withdrawn(client_for, clinician, fabricator, order):
    client = client_for(fabricator)
    client.post(ask_address(order), QUESTION)
    query = Query.objects.get()
    factories.correction(order, clinician, replies=[{"query": str(query.id), "says": "Yes."}])

    answer = client.post(withdraw_address(order, query))

    assert answer.status_code == 409
    assert "The clinic has replied meanwhile, with revision 2." in answer.content.decode()
    query.refresh_from_db()
    assert query.state == "replied"


def test_form_from_elsewhere_asks_and_withdraws_nothing(client_for, fabricator, order):
    query = moves.query(order, fabricator, order.current, "left", "girth", "On the skin?")
    client = client_for(fabricator, enforce_csrf_checks=True)

    assert client.post(ask_address(order), QUESTION).status_code == 403
    assert client.post(withdraw_address(order, query)).status_code == 403
    assert [(one.field, one.state) for one in Query.objects.all()] == [("girth", "open")]
