import pytest
from django.utils import timezone

from orders import handout
from orders.models import Event, Handout
from tests import factories


@pytest.fixture
def order(clinician, fabricator):
    return factories.order(clinician, fabricator.organisation)


def test_a_link_opens_as_often_as_it_is_asked_for(order, clinician):
    made, token = handout.make(order, clinician)

    assert [handout.opened(token).id for _time in range(3)] == [made.id] * 3


def test_the_token_has_128_bits_and_is_not_kept(order, clinician):
    made, token = handout.make(order, clinician)

    assert len(token) == 22  # 16 bytes in base64 without padding: ceil(128 / 6)
    assert token not in str(Handout.objects.values().get())
    assert made.token_sha256 == handout.digest(token)


def test_a_wrong_link_is_said_to_be_wrong(order, clinician):
    handout.make(order, clinician)

    with pytest.raises(handout.LinkDead) as dead:
        handout.opened("AAAAAAAAAAAAAAAAAAAAAA")

    assert (dead.value.why, dead.value.handout) == ("wrong", None)


def test_a_withdrawn_link_is_dead_but_knows_its_clinic(order, clinician):
    _made, token = handout.make(order, clinician)
    assert handout.withdraw_all(order, clinician) == 1

    with pytest.raises(handout.LinkDead) as dead:
        handout.opened(token)

    assert dead.value.why == "withdrawn"
    assert dead.value.handout.order.clinic == clinician.organisation


def test_a_new_link_replaces_the_old_one(order, clinician):
    _first, old = handout.make(order, clinician)
    second, new = handout.make(order, clinician)

    assert handout.opened(new).id == second.id
    with pytest.raises(handout.LinkDead):
        handout.opened(old)


def test_an_expired_link_is_said_to_be_expired(order, clinician):
    made, token = handout.make(order, clinician)
    Handout.objects.filter(id=made.id).update(expires_at=timezone.now())

    with pytest.raises(handout.LinkDead) as dead:
        handout.opened(token)

    assert dead.value.why == "expired"


def test_making_and_withdrawing_are_events(order, clinician):
    handout.make(order, clinician)
    handout.withdraw_all(order, clinician)

    assert [event.what for event in Event.objects.order_by("id")] == [
        "send",
        "handout made",
        "handout withdrawn",
    ]
