"""A gap of 22 mm on 393.7 mm taken makes 371 mm (393.7 - 22 = 371.7, down to a whole mm), by hand."""

import pytest
from django.urls import reverse

from orders import moves, proposal
from orders.changes import shells_of
from orders.lookups import for_phone
from orders.models import Order, Query
from orders.proposal import CannotPropose, read_proposed
from tests import factories

pytestmark = pytest.mark.django_db


@pytest.fixture
def order(clinician, fabricator):
    return factories.order(clinician, fabricator.organisation)


def propose(order, fabricator, field="gap", value="22 mm"):
    return moves.query(order, fabricator, order.current, "left", field, "Would that do?", value)


def accept(client, order, query, **said):
    posted = {"seal": order.current.seal.sha256, **said}
    return client.post(reverse("orders:proposal-accept", args=[order.id, query.id]), posted)


def test_accepting_makes_the_next_revision_with_the_proposed_value(client_for, order, clinician, fabricator):
    query = propose(order, fabricator)

    answer = accept(client_for(clinician), order, query)

    assert answer.status_code == 302
    order.refresh_from_db()
    query = Query.objects.get(id=query.id)
    assert (order.state, order.revision_number) == ("sent", 2)
    assert order.current.entries[0]["gap"] == "22 mm"
    assert order.current.results[0]["finished_length_mm"] == 371
    assert order.current.seal.parent_sha256 == order.revisions.get(number=1).seal.sha256
    assert (query.state, query.reply.text, query.reply.by) == ("replied", "Accepted: Gap 22 mm.", clinician)


def test_accepting_twice_makes_one_revision(client_for, order, clinician, fabricator):
    query, client = propose(order, fabricator), client_for(clinician)
    seal = order.current.seal.sha256

    answers = [accept(client, order, query, seal=seal).status_code for _time in range(2)]

    assert answers == [302, 302]
    assert order.revisions.count() == 2


def test_the_clinic_sees_what_accepting_changes(client_for, order, clinician, fabricator):
    propose(order, fabricator)

    page = client_for(clinician).get(reverse("orders:clinic-order", args=[order.id])).content.decode()

    assert "Accept: Gap 22 mm" in page
    assert "371" in page
    assert "Reply" in page


def test_the_phone_is_told_of_it(order, clinician, fabricator):
    propose(order, fabricator)

    (told,) = for_phone(clinician)["orders"][0]["queries"]

    assert told["text"].startswith("Would that do? They propose: Gap 22 mm.")


def test_a_proposal_that_is_stopped_can_not_be_accepted(client_for, order, clinician, fabricator):
    query = propose(order, fabricator, value="5 mm")  # the solid ankle's rim rises 6.764 mm: worked case 1

    client = client_for(clinician)
    page = client.get(reverse("orders:clinic-order", args=[order.id])).content.decode()
    answer = accept(client, order, query)

    assert "It can&#x27;t be taken as it is" in page or "It can't be taken as it is" in page
    assert answer.status_code == 409
    assert Order.objects.get(id=order.id).revision_number == 1


def test_a_reason_that_the_proposal_asks_for_is_given_with_it(client_for, order, clinician, fabricator):
    query, client = propose(order, fabricator, value="30 mm"), client_for(clinician)  # over the usual 25.4
    page = client.get(reverse("orders:clinic-order", args=[order.id])).content.decode()
    assert 'name="reason:gap.outside_practice"' in page

    refused = accept(client, order, query)
    taken = accept(client, order, query, **{"reason:gap.outside_practice": "The shoe is thick."})

    assert (refused.status_code, taken.status_code) == (409, 302)
    entry = Order.objects.get(id=order.id).current.entries[0]
    assert entry["answers"] == {"gap.outside_practice": "The shoe is thick."}


def test_a_reason_for_other_figures_does_not_hold(clinician, fabricator):
    entry = factories.entry(gap="30 mm", answers={"gap.outside_practice": "The shoe is thick."})
    order = factories.order(clinician, fabricator.organisation, entry)
    query = propose(order, fabricator, value="35 mm")

    outcome = proposal.outcome(query, order.current)

    assert [reason.flag for reason in outcome.reasons] == ["gap.outside_practice"]


def test_a_proposal_about_a_revision_that_was_replaced_is_not_accepted(
    client_for, order, clinician, fabricator
):
    query = propose(order, fabricator)
    read = order.current.seal.sha256
    factories.correction(order, clinician, factories.entry(length=["15 3/4"], second_route=None))
    order.refresh_from_db()

    answer = accept(client_for(clinician), order, query, seal=read)

    assert answer.status_code == 409
    assert Order.objects.get(id=order.id).revision_number == 2


def test_a_withdrawn_proposal_is_not_accepted(client_for, order, clinician, fabricator):
    query = propose(order, fabricator)
    moves.withdraw(order, query, fabricator)

    assert accept(client_for(clinician), order, query).status_code == 409


def test_accepting_is_the_clinics_alone(
    client_for, order, other_clinician, fabricator, other_fabricator, clinician
):
    query = propose(order, fabricator)

    for member in (other_clinician, fabricator, other_fabricator):
        assert accept(client_for(member), order, query).status_code == 404
    assert client_for(None).post(f"/orders/{order.id}/queries/{query.id}/accept").status_code == 302
    address = reverse("orders:proposal-accept", args=[order.id, query.id])
    assert client_for(clinician).get(address).status_code == 405
    assert Order.objects.get(id=order.id).revision_number == 1


def test_a_plain_question_can_not_be_accepted(client_for, order, clinician, fabricator):
    query = moves.query(order, fabricator, order.current, "left", "length", "To the rim?")

    assert accept(client_for(clinician), order, query).status_code == 404


@pytest.mark.parametrize(
    ("field", "text", "value"),
    [
        ("gap", "22", "22 mm"),
        ("gap", "7/8 in", "7/8 in"),
        ("shell.wall", "Thick", "thick"),
        ("shell.rear", "long", "long"),
        ("knee.hardware_length", "11.6 cm", "11.6 cm"),
        ("shell.upper_strap", "75", "75 mm"),
        ("shell.lower_strap", "3 in", "3 in"),
    ],
)
def test_a_value_is_read_as_the_entry_holds_it(order, field, text, value):
    assert read_proposed(text, field, shells_of(order.current)[0]) == value


@pytest.mark.parametrize(
    ("field", "text", "says"),
    [
        ("length", "400", "Only"),
        ("gap", "wide", "Read “wide”"),
        ("gap", "1,234", "could be"),
        ("shell.wall", "paper", "There are: Thin, Thick."),
        ("shell.wall", "thin", "already"),
        ("gap", "5", "strikes the shell"),
        ("shell.upper_strap", "12.4", "over the shell's edge"),
        ("shell.upper_strap", "5000", "Nothing on a leg is that long"),
        ("shell.lower_strap", "330", "no room for two straps"),
    ],
)
def test_what_can_not_be_proposed_says_why(order, field, text, says):
    with pytest.raises(CannotPropose, match=says):
        read_proposed(text, field, shells_of(order.current)[0])


def test_a_place_that_the_mechanism_takes_is_not_proposed(clinician, fabricator):
    knee = {"hardware_length": "100 mm"}  # and 10 clear and half of 25: 122.5, by hand
    order = factories.order(clinician, fabricator.organisation, factories.entry(knee=knee))
    (shell,) = shells_of(order.current)

    with pytest.raises(CannotPropose, match=r"keeps it at 122\.5"):
        read_proposed("80", "shell.upper_strap", shell)
    assert read_proposed("130", "shell.upper_strap", shell) == "130 mm"


def test_another_strap_place_is_taken_with_a_tap(client_for, order, clinician, fabricator):
    query = propose(order, fabricator, "shell.upper_strap", "75 mm")
    client = client_for(clinician)
    page = client.get(reverse("orders:clinic-order", args=[order.id])).content.decode()

    accept(client, order, query)

    order.refresh_from_db()
    (result,) = order.current.results
    assert "Accept: Upper strap, below the top edge 75 mm" in page
    assert (result["upper_strap_mm"], result["lower_strap_mm"]) == (75, 60)
    assert order.current.entries[0]["shell"]["upper_strap"] == "75 mm"


def test_the_form_keeps_a_value_it_refuses(client_for, order, fabricator):
    posted = {"revision": "1", "side": "left", "field": "shell.wall", "text": "Another?", "proposed": "paper"}
    client = client_for(fabricator)
    address = reverse("orders:query-ask", args=[order.id])

    answer = client.post(address, posted)

    assert answer.status_code == 422
    assert 'value="paper"' in answer.content.decode()
    assert not Query.objects.exists()
    client.post(address, {**posted, "proposed": "thick"})
    assert Query.objects.get().proposed == "thick"
    assert "Wall thick" in client.get(reverse("orders:order", args=[order.id])).content.decode()
