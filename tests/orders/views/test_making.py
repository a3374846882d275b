import re
from dataclasses import replace

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from orders import changes, making_page, moves
from orders.models import Event, Order
from tests import factories

pytestmark = pytest.mark.django_db
PAGES = ("making", "traveller", "packing-slip")
POSTS = ("start", "stage", "inspect", "ship")
GOOD = {
    "side": "left",
    "left-unit": "mm",
    "left-length_0": "380",
    "left-girth_0": "375",
    "left-upper_strap_0": "60",
    "left-lower_strap_0": "60",
    "left-mass": "450",
    "left-decision": "",
    "left-reason": "",
}


@pytest.fixture
def order(clinician, fabricator):
    """Confirmed."""
    order = factories.order(clinician, fabricator.organisation, deliver_to="the hill surgery")
    moves.confirm(order, order.current.seal.sha256, fabricator)
    return order


@pytest.fixture
def begun(order, fabricator):
    moves.start(order, fabricator)
    return order


def url(name, order):
    return reverse(f"orders:{name}", args=[order.id])


def whats(order):
    return list(Event.objects.filter(order_id=order.id).order_by("id").values_list("what", flat=True))


@pytest.mark.parametrize("name", [*PAGES, *POSTS])
def test_it_is_nothing_to_anybody_else(
    client_for, order, name, clinician, lead, other_clinician, other_fabricator
):
    for member in (clinician, lead, other_clinician, other_fabricator):
        client = client_for(member)
        answer = client.get(url(name, order)) if name in PAGES else client.post(url(name, order))
        assert answer.status_code == 404
    stranger = client_for(None)
    answer = stranger.get(url(name, order)) if name in PAGES else stranger.post(url(name, order))
    assert answer.status_code == 302
    assert answer["Location"].startswith("/accounts/login/")
    assert "start" not in whats(order)


@pytest.mark.parametrize("name", POSTS)
def test_what_moves_an_order_answers_posts_only(client_for, order, fabricator, name):
    assert client_for(fabricator).get(url(name, order)).status_code == 405


@pytest.mark.parametrize("name", PAGES)
def test_what_is_read_answers_reading_only(client_for, order, fabricator, name):
    assert client_for(fabricator).post(url(name, order)).status_code == 405


@pytest.mark.parametrize("name", PAGES)
def test_an_order_that_is_not_confirmed_is_not_made(client_for, clinician, fabricator, name):
    order = factories.order(clinician, fabricator.organisation)

    assert client_for(fabricator).get(url(name, order)).status_code == 404


def test_the_day_from_start_to_shipping(client_for, order, fabricator):
    client = client_for(fabricator)
    assert "Start making" in client.get(url("making", order)).content.decode()

    client.post(url("start", order))
    client.post(url("stage", order), {"side": "left", "stage": "formed", "done": "1"})
    client.post(url("inspect", order), GOOD)
    client.post(url("ship", order), {"carrier": "Valley Parcels", "number": "VP 1207"})

    page = client.get(url("making", order)).content.decode()
    assert Order.objects.get(id=order.id).state == "shipped"
    assert whats(order) == ["send", "confirm", "start", "stage", "inspect", "make", "ship"]
    assert "Valley Parcels, VP 1207" in page
    assert "<b>380</b> mm ± 1.4" in page


@pytest.mark.parametrize("name", ["order", "making"])
def test_wherever_making_can_be_started_it_is_said_that_nothing_is_cancelled_after(
    client_for, order, fabricator, name
):
    words = "From the start on, the clinic can't cancel it any more."
    client = client_for(fabricator)

    assert words in client.get(url(name, order)).content.decode()
    client.post(url("start", order))
    assert words not in client.get(url(name, order)).content.decode()


def test_a_stage_that_is_done_is_offered_to_be_taken_back_and_no_other(client_for, begun, fabricator):
    client = client_for(fabricator)
    client.post(url("stage", begun), {"side": "left", "stage": "formed", "done": "1"})

    page = client.get(url("making", begun)).content.decode()

    assert re.findall(r"Take back<span[^>]*>: (\w+), left", page) == ["formed"]


def test_starting_twice_starts_once(client_for, order, fabricator):
    client = client_for(fabricator)

    answers = [client.post(url("start", order)) for _time in range(2)]

    assert [answer["Location"] for answer in answers] == [url("making", order)] * 2
    assert whats(order).count("start") == 1


def test_an_order_that_was_cancelled_meanwhile_is_not_started(client_for, order, clinician, fabricator):
    moves.cancel(order, clinician)

    answer = client_for(fabricator).post(url("start", order))

    assert answer.status_code == 409
    assert "it is cancelled now" in answer.content.decode()


@pytest.mark.parametrize("said", [{"side": "right"}, {"stage": "polished"}, {"side": ""}])
def test_a_stage_that_there_is_not_is_nothing(client_for, begun, fabricator, said):
    posted = {"side": "left", "stage": "formed", "done": "1", **said}

    assert client_for(fabricator).post(url("stage", begun), posted).status_code == 404
    assert not begun.stages.exists()


def test_a_stage_before_the_start_changes_nothing(client_for, order, fabricator):
    answer = client_for(fabricator).post(
        url("stage", order), {"side": "left", "stage": "formed", "done": "1"}
    )

    assert answer.status_code == 409
    assert not order.stages.exists()


def test_a_refused_inspection_keeps_what_was_typed(client_for, begun, fabricator):
    answer = client_for(fabricator).post(url("inspect", begun), {**GOOD, "left-length_0": "38.05"})

    page = answer.content.decode()
    assert answer.status_code == 422
    assert 'value="38.05"' in page
    assert 'value="375"' in page
    assert "If you mean 38.05 cm" in page
    assert not begun.inspections.exists()


@pytest.mark.parametrize(
    ("field", "text", "says"),
    [
        ("length_0", "15", "If you mean 15 in, write it with its unit."),
        ("length_0", "38.1", "If you mean 38.1 cm, write it with its unit."),
        ("girth_0", "14 3/4", "If you mean 14 3/4 in, write it with its unit."),
        ("length_0", "-380", None),
        ("length_0", "9" * 60, "No shell measures so much."),
        ("length_0", "0", "Nothing of a shell measures 0."),
        ("lower_strap_0", "0.0", "Nothing of a shell measures 0."),
        ("length_0", "1e9", None),
        ("upper_strap_0", "1000000.0001", "No shell measures so much."),
        ("length_0", "1000000", None),
        ("length_0", "∞", None),
        ("length_0", "380\x00", None),
        ("length_0", "\u202e380", None),
        ("length_0", "x" * 65, None),
        ("length_0", "", "Measure it and write down what the rule says."),
        ("length_1", "390", "Measure a third time."),
        ("unit", "furlongs", None),
        ("mass", "0.45", "Weigh it in grams."),
        ("mass", "450000", "No shell weighs so much."),
        ("mass", "9" * 400, None),
        ("mass", "1." + "1" * 400, "This is no number of grams."),
        ("mass", "NaN", "This is no number of grams."),
        ("mass", "-450", "Weigh it in grams."),
        ("decision", "burnt", None),
        ("reason", "x" * 301, None),
    ],
)
def test_what_can_not_be_is_refused_and_nothing_half_saved(client_for, begun, fabricator, field, text, says):
    answer = client_for(fabricator).post(url("inspect", begun), {**GOOD, f"left-{field}": text})

    page = answer.content.decode()
    assert answer.status_code == 422
    assert 'class="says"' in page or field == "unit"
    assert says is None or says in page
    focused = re.findall(r'name="left-(\w+)"[^>]* autofocus', page)
    said = re.findall(r'id="id_left-(\w+)_error"', page) or ["unit"]
    assert [name.removesuffix("_0") for name in focused] == said[:1]
    assert "Ensure that" not in page
    assert not begun.inspections.exists()
    begun.refresh_from_db()
    assert begun.state == "in_making"


def test_a_shell_whose_mass_could_not_be_reckoned_is_weighed_all_the_same(
    client_for, begun, fabricator, monkeypatch
):
    def unknown(order):
        made = shells_of_order(order)
        return [replace(shell, result={**shell.result, "stations": []}) for shell in made]

    shells_of_order = changes.shells_of
    monkeypatch.setattr(making_page, "shells_of", unknown)
    client = client_for(fabricator)

    for name in ("making", "traveller"):
        assert "not reckoned" in client.get(url(name, begun)).content.decode()
    assert client.post(url("inspect", begun), GOOD).status_code == 302
    assert begun.inspections.get().typed["mass_g"] == "450"


def test_a_miss_is_accepted_with_a_reason_and_both_are_shown(client_for, begun, fabricator):
    client = client_for(fabricator)
    missed = {**GOOD, "left-length_0": "377"}
    assert client.post(url("inspect", begun), missed).status_code == 422

    client.post(
        url("inspect", begun), {**missed, "left-decision": "accepted", "left-reason": "Agreed with them."}
    )

    page = client.get(url("making", begun)).content.decode()
    assert Order.objects.get(id=begun.id).state == "made"
    assert "2 mm under" in page
    assert "Agreed with them." in page


def test_a_shell_made_again_waits_to_be_measured_again(client_for, begun, fabricator):
    client = client_for(fabricator)

    client.post(
        url("inspect", begun),
        {**GOOD, "left-length_0": "370", "left-decision": "remade", "left-reason": "Too short."},
    )

    page = client.get(url("making", begun)).content.decode()
    assert Order.objects.get(id=begun.id).state == "in_making"
    assert "made again, number 2" in page
    assert "Write it down" in page


def test_inspecting_twice_writes_it_down_once(client_for, begun, fabricator):
    client = client_for(fabricator)

    answers = [client.post(url("inspect", begun), GOOD).status_code for _time in range(2)]

    assert answers == [302, 409]
    assert begun.inspections.count() == 1


def test_shipping_wants_a_carrier(client_for, begun, fabricator):
    client = client_for(fabricator)
    client.post(url("inspect", begun), GOOD)

    answer = client.post(url("ship", begun), {"carrier": " ", "number": "VP 1207"})

    assert answer.status_code == 422
    assert "Say who carries it" in answer.content.decode()
    assert 'value="VP 1207"' in answer.content.decode()
    assert Order.objects.get(id=begun.id).state == "made"


def test_a_carrier_and_a_number_are_seen_whole(client_for, begun, fabricator):
    client = client_for(fabricator)
    client.post(url("inspect", begun), GOOD)

    for wrong in ({"carrier": "Valley\u202e Parcels"}, {"number": "VP\u2066 1207"}):
        answer = client.post(url("ship", begun), {"carrier": "Valley Parcels", "number": "VP 1207"} | wrong)
        assert answer.status_code == 422
        assert "be seen. Type it anew." in answer.content.decode()
    assert Order.objects.get(id=begun.id).state == "made"


def test_what_is_not_made_is_not_shipped(client_for, begun, fabricator):
    answer = client_for(fabricator).post(url("ship", begun), {"carrier": "Valley Parcels"})

    assert answer.status_code == 409
    assert Order.objects.get(id=begun.id).state == "in_making"


def test_traveller_opens_the_order_by_its_square_code(client_for, begun, fabricator, settings, monkeypatch):
    drawn = []
    monkeypatch.setattr("orders.views.making.square_code", lambda link: drawn.append(link) or "the square")

    page = client_for(fabricator).get(url("traveller", begun)).content.decode()

    assert drawn == [settings.SITE_ADDRESS.rstrip("/") + url("making", begun)]
    assert "the square" in page
    assert "379 to 381 mm" in page
    assert "Never drill, heat or cut" in page


def test_packing_slip_names_the_reference_and_nothing_else_of_the_person(client_for, begun, fabricator):
    page = client_for(fabricator).get(url("packing-slip", begun)).content.decode()

    assert begun.person.initials  # there is something to leak
    assert begun.person.initials not in page
    assert "T-0001" in page
    assert "the hill surgery" in page
    assert "Shank shell, left" in page


def test_making_takes_as_many_queries_for_two_shells(client_for, clinician, fabricator):
    both = factories.entry(side="left"), factories.entry(side="right", girth=["15", "15"])
    counts = []
    for entries in ((factories.entry(),), both):
        order = factories.order(clinician, fabricator.organisation, *entries)
        moves.confirm(order, order.current.seal.sha256, fabricator)
        client = client_for(fabricator)
        with CaptureQueriesContext(connection) as queries:
            client.get(url("making", order))
        counts.append(len(queries))

    assert counts[0] == counts[1]
