from datetime import timedelta

import pytest
from django.db import transaction
from django.utils import timezone

from capture import sync
from orders import intake, moves
from orders.models import Event, Inspection, Mail, Order, Revision
from orders.models.event import note_look
from tests import factories

State = Order.State


@pytest.fixture
def order(clinician, fabricator):
    return factories.order(clinician, fabricator.organisation)


def force_state(order, state):
    Order.objects.filter(id=order.id).update(state=state)
    order.refresh_from_db()


def test_sending_makes_the_order_with_its_first_revision(order):
    assert (order.state, order.revision_number) == (State.SENT, 1)
    assert order.current.number == 1
    assert [event.what for event in Event.objects.filter(order_id=order.id)] == ["send"]


def test_confirm_names_the_revision_by_its_seal(order, fabricator):
    moves.confirm(order, order.current.seal.sha256, fabricator)

    assert Order.objects.get(id=order.id).state == State.CONFIRMED
    event = Event.objects.get(order_id=order.id, what="confirm")
    promised_for = Order.objects.get(id=order.id).promised_for.isoformat()
    assert event.detail == {
        "revision": 1,
        "seal": order.current.seal.sha256,
        "promised_for": promised_for,
    }
    assert event.member_id == fabricator.id


def test_confirm_refuses_a_revision_that_was_replaced(order, clinician, fabricator):
    read = order.current.seal.sha256
    factories.correction(order, clinician, factories.entry(length=["15 3/4"], second_route=None))

    with pytest.raises(moves.Changed) as changed:
        moves.confirm(order, read, fabricator)

    assert changed.value.order.revision_number == 2
    assert Order.objects.get(id=order.id).state == State.SENT
    assert not Event.objects.filter(order_id=order.id, what="confirm").exists()


def test_confirm_refuses_a_seal_of_another_order(order, clinician, fabricator):
    other = factories.order(clinician, fabricator.organisation, factories.entry(reference="T-0002"))

    with pytest.raises(moves.Changed):
        moves.confirm(order, other.current.seal.sha256, fabricator)

    assert Order.objects.get(id=order.id).state == State.SENT


# Every state in which each move must be refused: all that the table does not name.
REFUSED = [
    (move, state)
    for move in sorted({move for _state, move in moves.MOVES} - {"send"})
    for state in State.values
    if (state, move) not in moves.MOVES
]


@pytest.mark.parametrize(("move", "state"), REFUSED)
def test_a_move_is_refused_in_every_other_state(move, state, order, fabricator, clinician):
    mover = fabricator if moves.MOVES[moves.states_before(move)[0], move][0] == "workshop" else clinician
    force_state(order, state)
    events = Event.objects.count()

    with pytest.raises(moves.Changed), transaction.atomic():
        moves.advance(order, move, mover)

    assert Order.objects.get(id=order.id).state == state
    assert Event.objects.count() == events


@pytest.mark.parametrize(("state", "move"), [key for key in moves.MOVES if key[0]])
def test_the_other_side_may_not_make_the_move(state, move, order, fabricator, clinician):
    wrong = clinician if moves.MOVES[state, move][0] == "workshop" else fabricator
    force_state(order, state)

    with pytest.raises(moves.NotYours), transaction.atomic():
        moves.advance(order, move, wrong)

    assert not moves.may_move(order, move, wrong)
    assert Order.objects.get(id=order.id).state == state


@pytest.mark.parametrize(("state", "move"), [key for key in moves.MOVES if key[0]])
def test_a_move_leads_where_the_table_says(state, move, order, fabricator, clinician):
    side, after = moves.MOVES[state, move]
    force_state(order, state)

    moves.advance(order, move, fabricator if side == "workshop" else clinician)

    assert Order.objects.get(id=order.id).state == after


def test_a_move_on_an_order_that_has_moved_meanwhile_is_refused(order, fabricator):
    as_read = Order.objects.get(id=order.id)
    moves.confirm(order, order.current.seal.sha256, fabricator)

    with pytest.raises(moves.Changed) as changed, transaction.atomic():
        moves.advance(as_read, "query", fabricator)

    assert changed.value.order.state == State.CONFIRMED


def test_a_correction_may_change_when_it_is_needed(order, clinician):
    factories.correction(order, clinician, need_by="2027-01-15", deliver_to="the hill surgery")

    order.refresh_from_db()
    assert (str(order.need_by), order.deliver_to) == ("2027-01-15", "the hill surgery")


def ask(order, fabricator, field="length", text="Is this from the rim?"):
    return moves.query(order, fabricator, order.current, "left", field, text)


def test_a_query_sends_the_order_back_and_a_reply_brings_it_again(order, clinician, fabricator):
    asked = ask(order, fabricator)
    assert Order.objects.get(id=order.id).state == State.QUERIED

    answer = factories.correction(
        order,
        clinician,
        factories.entry(length=["15 3/4"], second_route=None),
        replies=[{"query": str(asked.id), "says": "It was the collar."}],
    )

    assert answer["order"] == {"id": str(order.id), "state": "sent", "revision": 2}
    asked.refresh_from_db()
    assert (asked.state, asked.reply.text, asked.reply.revision.number) == (
        "replied",
        "It was the collar.",
        2,
    )


def test_the_order_stays_with_the_clinic_until_every_query_is_answered(order, clinician, fabricator):
    first, second = ask(order, fabricator), ask(order, fabricator, "girth", "On the skin?")

    factories.correction(order, clinician, replies=[{"query": str(first.id), "says": "Yes."}])
    order.refresh_from_db()
    assert (order.state, order.revision_number) == (State.QUERIED, 2)

    factories.correction(
        order,
        clinician,
        factories.entry(length=["15 3/4"], second_route=None),
        replies=[{"query": str(second.id), "says": "Yes."}],
    )
    order.refresh_from_db()
    assert (order.state, order.revision_number) == (State.SENT, 3)


def test_a_reply_to_a_withdrawn_query_loses_nothing(order, clinician, fabricator):
    asked = ask(order, fabricator)
    moves.withdraw(order, asked, fabricator)
    order.refresh_from_db()

    answer = factories.correction(
        order,
        clinician,
        factories.entry(length=["15 3/4"], second_route=None),
        replies=[{"query": str(asked.id), "says": "It was the collar."}],
    )

    assert answer["order"]["revision"] == 2
    assert "withdrawn" in answer["says"]
    asked.refresh_from_db()
    assert asked.state == "withdrawn"


def test_a_query_is_withdrawn_once(order, fabricator):
    asked = ask(order, fabricator)
    moves.withdraw(order, asked, fabricator)
    assert Order.objects.get(id=order.id).state == State.SENT

    asked.refresh_from_db()
    with pytest.raises(moves.Changed):
        moves.withdraw(order, asked, fabricator)


def test_withdrawing_one_of_two_queries_leaves_the_other(order, fabricator):
    first, second = ask(order, fabricator), ask(order, fabricator, "girth")

    moves.withdraw(order, first, fabricator)

    order.refresh_from_db()
    assert order.state == State.QUERIED
    assert moves.open_queries(order) == [second]


def test_a_query_about_a_revision_that_was_replaced_is_refused(order, clinician, fabricator):
    read = order.current
    factories.correction(order, clinician, factories.entry(length=["15 3/4"], second_route=None))

    with pytest.raises(moves.Changed):
        moves.query(order, fabricator, read, "left", "length", "Is this from the rim?")

    assert not order.queries.exists()


def contested(order, clinician):
    """Two seals with one parent: the first is revision 2, the second waits."""
    parent = order.current.seal.sha256
    answers = []
    for length in ("15 3/4", "15 7/8"):
        raw = factories.seal(
            order.workshop,
            factories.entry(length=[length], second_route=None),
            order_id=order.id,
            parent=parent,
            visit_id=order.visit_id,
        )
        answers.append(sync.take_seal(clinician, order.id, factories.hash_of(raw), raw))
    order.refresh_from_db()
    return answers


def test_two_seals_with_one_parent_wait_for_the_clinic_to_pick(order, clinician, fabricator):
    answers = contested(order, clinician)

    assert [answer["outcome"] for answer in answers] == ["ordered", "kept"]
    assert order.contested
    with pytest.raises(moves.Changed):
        moves.confirm(order, order.current.seal.sha256, fabricator)


def test_picking_what_counts_now_lets_it_be_confirmed(order, clinician, fabricator):
    contested(order, clinician)

    moves.pick(order, clinician)

    order.refresh_from_db()
    assert (order.contested, order.revision_number) == (False, 2)
    moves.confirm(order, order.current.seal.sha256, fabricator)


def test_picking_the_other_makes_it_the_next_revision(order, clinician):
    contested(order, clinician)
    rival = order.rivals.get()

    moves.pick(order, clinician, intake.picked_revision(order, rival))

    order.refresh_from_db()
    assert (order.contested, order.revision_number) == (False, 3)
    assert order.current.seal_id == rival.seal_id


@pytest.mark.parametrize(("other", "opened"), [(False, True), (True, False)])
def test_picking_what_the_workshop_has_opened_leaves_it_so(order, clinician, fabricator, other, opened):
    contested(order, clinician)
    note_look(order, fabricator)

    moves.pick(order, clinician, intake.picked_revision(order, order.rivals.get()) if other else None)

    order.refresh_from_db()
    assert order.opened is opened


def test_a_cancelled_order_takes_nothing_more(order, clinician, fabricator):
    moves.cancel(order, clinician)

    answer = factories.correction(order, clinician, factories.entry(length=["15 3/4"], second_route=None))

    assert answer["outcome"] == "kept"
    assert "cancelled" in answer["says"]
    order.refresh_from_db()
    assert (order.state, order.revision_number, order.contested) == (State.CANCELLED, 1, False)


def test_each_move_tells_the_other_side_once(order, clinician, fabricator):
    asked = ask(order, fabricator)
    factories.correction(order, clinician, replies=[{"query": str(asked.id), "says": "Yes."}])
    order.refresh_from_db()
    moves.confirm(order, order.current.seal.sha256, fabricator)

    told = list(Mail.objects.order_by("id").values_list("what", "to_id"))
    assert told == [
        ("send", fabricator.id),
        ("query", clinician.id),
        ("reply", fabricator.id),
        ("confirm", clinician.id),
    ]


def test_every_move_is_an_event_with_who_and_what(order, clinician, fabricator):
    asked = ask(order, fabricator)
    moves.withdraw(order, asked, fabricator)
    moves.cancel(order, clinician)

    events = [
        (event.what, event.member_id) for event in Event.objects.filter(order_id=order.id).order_by("id")
    ]
    assert events == [
        ("send", clinician.id),
        ("query", fabricator.id),
        ("withdraw", fabricator.id),
        ("cancel", clinician.id),
    ]


def in_making(order, fabricator):
    moves.confirm(order, order.current.seal.sha256, fabricator)
    moves.start(order, fabricator)


def inspection(side="left", outcome="passed", attempt=1, **changes):
    return Inspection(side=side, attempt=attempt, typed={}, lines=[], outcome=outcome, **changes)


def test_an_order_is_made_once_every_shell_was_measured_and_is_good(clinician, fabricator):
    both = factories.entry(side="left"), factories.entry(side="right", girth=["15", "15"])
    order = factories.order(clinician, fabricator.organisation, *both)
    in_making(order, fabricator)

    moves.inspect(order, fabricator, inspection("left"))
    assert order.state == State.IN_MAKING
    moves.inspect(
        order, fabricator, inspection("right", "accepted", reason="The clinic agreed by telephone.")
    )

    assert Order.objects.get(id=order.id).state == State.MADE
    assert Mail.objects.filter(order=order, what="make").count() == 1


def test_a_shell_that_is_made_again_is_measured_again(order, fabricator):
    in_making(order, fabricator)
    moves.mark_stage(order, fabricator, "left", "formed", done=True)

    moves.inspect(order, fabricator, inspection(outcome="remade", reason="Too short."))
    assert order.state == State.IN_MAKING
    assert moves.attempt_of(order, "left") == 2
    moves.mark_stage(order, fabricator, "left", "formed", done=True)
    moves.inspect(order, fabricator, inspection(attempt=2))

    assert order.state == State.MADE
    assert list(order.stages.values_list("attempt", "stage")) == [(1, "formed"), (2, "formed")]


@pytest.mark.parametrize("attempt", [0, 2])
def test_an_inspection_of_another_attempt_is_refused(order, fabricator, attempt):
    in_making(order, fabricator)

    with pytest.raises(moves.Changed):
        moves.inspect(order, fabricator, inspection(attempt=attempt))

    assert not order.inspections.exists()
    assert not Event.objects.filter(order_id=order.id, what="inspect").exists()


def test_a_shell_that_is_good_is_not_measured_twice(clinician, fabricator):
    both = factories.entry(side="left"), factories.entry(side="right", girth=["15", "15"])
    order = factories.order(clinician, fabricator.organisation, *both)
    in_making(order, fabricator)
    moves.inspect(order, fabricator, inspection("left"))

    with pytest.raises(moves.Changed):
        moves.inspect(order, fabricator, inspection("left"))

    assert order.inspections.count() == 1


def test_a_stage_marked_twice_is_done_once_and_can_be_taken_back(order, fabricator):
    in_making(order, fabricator)

    for done in (True, True, False, False):
        moves.mark_stage(order, fabricator, "left", "trimmed", done)

    whats = Event.objects.filter(order_id=order.id, what__startswith="stage").order_by("id")
    assert [event.what for event in whats] == ["stage", "stage undone"]
    assert not order.stages.exists()


def test_what_is_in_making_can_not_be_cancelled(order, clinician, fabricator):
    in_making(order, fabricator)

    with pytest.raises(moves.Changed):
        moves.cancel(order, clinician)

    assert Order.objects.get(id=order.id).state == State.IN_MAKING


def test_shipping_keeps_carrier_and_number_and_tells_the_clinic(order, clinician, fabricator):
    in_making(order, fabricator)
    moves.inspect(order, fabricator, inspection())

    moves.ship(order, fabricator, "Valley Parcels", "VP 1207")

    order.refresh_from_db()
    assert (order.state, order.shipment.carrier, order.shipment.number) == (
        State.SHIPPED,
        "Valley Parcels",
        "VP 1207",
    )
    assert list(Mail.objects.filter(order=order, what="ship").values_list("to_id", flat=True)) == [
        clinician.id
    ]


@pytest.mark.parametrize("days", [-1, 0, 2])
def test_a_day_before_the_lead_time_is_over_can_not_be_promised(order, fabricator, days):
    day = timezone.localdate() + timedelta(days=days)

    with pytest.raises(moves.TooEarly) as early:
        moves.confirm(order, order.current.seal.sha256, fabricator, day)

    assert early.value.earliest == timezone.localdate() + timedelta(days=3)
    assert Order.objects.get(id=order.id).state == State.SENT


def test_reasons_of_the_current_revision_stand_in_the_order(order, clinician):
    assert order.reasons == 0

    factories.correction(
        order,
        clinician,
        factories.entry(taken="seated", answers={"taken.not_standing": "Can't stand yet."}),
    )

    order.refresh_from_db()
    assert order.reasons == 1


def test_a_revision_is_numbered_by_the_server_and_frozen(order, clinician):
    factories.correction(order, clinician, factories.entry(length=["15 3/4"], second_route=None))
    order.refresh_from_db()

    assert [revision.number for revision in order.revisions.order_by("number")] == [1, 2]
    with pytest.raises(Exception, match="written once"), transaction.atomic():
        Revision.objects.filter(order=order).update(number=9)
