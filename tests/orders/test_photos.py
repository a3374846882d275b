"""An order comes into being once, when its photos are all accounted for; its workshop then sees them, nobody else's."""

import json

import pytest

from capture import photo_access, sync
from capture.access import photo_to_read
from capture.models import Seal
from capture.photos.uploads import keep_whole
from orders import photos
from orders.models import Event, Order, PhotoUse
from tests import factories
from tests.capture.photos.pictures import a_jpeg

pytestmark = pytest.mark.django_db
ONE, TWO = "1" * 64, "2" * 64


def seal_naming(fabricator, *sha256s, **changes):
    named = [factories.named_photo(sha256) for sha256 in sha256s]
    return factories.seal(fabricator.organisation, photos=named, **changes)


def take(member, raw):
    return sync.take_seal(member, sync.read_seal(raw).id, factories.hash_of(raw), raw)


def test_seal_whose_photos_have_not_come_is_stored_and_waits(clinician, fabricator):
    factories.photo(clinician, ONE)
    raw = seal_naming(fabricator, ONE, TWO)

    receipt = take(clinician, raw)

    assert (receipt["outcome"], receipt["order"], receipt["says"]) == ("waiting", None, None)
    assert receipt["photos"] == [{"sha256": ONE, "state": "kept"}, {"sha256": TWO, "state": "missing"}]
    assert receipt["photos_missing"] == [TWO]
    assert bytes(Seal.objects.get().raw) == raw
    assert not Order.objects.exists()
    assert not Event.objects.exists()


def test_waiting_seal_has_the_same_receipt_each_time(clinician, fabricator):
    raw = seal_naming(fabricator, ONE)

    assert take(clinician, raw) == take(clinician, raw)
    assert (Seal.objects.count(), PhotoUse.objects.count()) == (1, 1)


def test_order_comes_into_being_with_its_last_photo(clinician, fabricator):
    raw = seal_naming(fabricator, ONE, TWO)
    take(clinician, raw)

    factories.photo(clinician, ONE)
    assert not Order.objects.exists()
    factories.photo(clinician, TWO)

    order = Order.objects.get()
    assert (order.state, order.revision_number) == ("sent", 1)
    receipt = take(clinician, raw)
    assert (receipt["outcome"], receipt["order"]["revision"]) == ("ordered", 1)
    assert receipt["photos_missing"] == []
    assert [event.what for event in Event.objects.all()] == ["send"]


def test_nothing_is_reckoned_while_another_photo_is_missing(clinician, fabricator, monkeypatch):
    take(clinician, seal_naming(fabricator, ONE, TWO))
    read = []
    monkeypatch.setattr(photos.intake, "receive", lambda seal, *_rest: read.append(seal))

    factories.photo(clinician, ONE)
    assert read == []
    factories.photo(clinician, TWO)

    assert read == [Seal.objects.get()]


def test_photo_that_was_set_aside_is_accounted_for_and_the_order_goes_on(clinician, fabricator):
    raw = seal_naming(fabricator, ONE)
    take(clinician, raw)

    factories.photo(clinician, ONE, reason="damaged")

    assert Order.objects.count() == 1
    assert take(clinician, raw)["photos"] == [{"sha256": ONE, "state": "set_aside"}]


def test_photos_that_came_first_make_nothing_wait(clinician, fabricator):
    factories.photo(clinician, ONE)

    receipt = take(clinician, seal_naming(fabricator, ONE))

    assert receipt["outcome"] == "ordered"
    assert receipt["photos"] == [{"sha256": ONE, "state": "kept"}]


def test_another_clinics_photo_with_this_hash_is_not_this_clinics(clinician, other_clinician, fabricator):
    factories.photo(other_clinician, ONE)

    assert take(clinician, seal_naming(fabricator, ONE))["outcome"] == "waiting"

    factories.photo(clinician, ONE)
    assert Order.objects.get().clinic == clinician.organisation


def test_the_same_photo_told_of_twice_makes_one_order(clinician, fabricator):
    take(clinician, seal_naming(fabricator, ONE))
    photo = factories.photo(clinician, ONE)

    photo_access.arrived(photo)

    assert (Order.objects.count(), Event.objects.count()) == (1, 1)


def test_one_photo_in_two_places_is_waited_for_once(clinician, fabricator):
    raw = seal_naming(fabricator, ONE, ONE)

    assert take(clinician, raw)["photos_missing"] == [ONE]
    factories.photo(clinician, ONE)

    assert Order.objects.count() == 1
    assert PhotoUse.objects.count() == 2


def test_what_may_not_be_sent_is_said_at_once_and_not_once_the_photos_are_here(clinician, fabricator):
    stopped = factories.entry(length=["100 mm"], second_route=None)
    raw = factories.seal(fabricator.organisation, stopped, photos=[factories.named_photo(ONE)])

    receipt = take(clinician, raw)

    assert receipt["outcome"] == "kept"
    assert "100" in receipt["says"]
    assert receipt["photos_missing"] == []


def test_photo_of_a_shell_that_is_not_there_is_said(clinician, fabricator):
    raw = factories.seal(fabricator.organisation, photos=[factories.named_photo(ONE, entry=1)])

    receipt = take(clinician, raw)

    assert receipt["outcome"] == "kept"
    assert "not in the order" in receipt["says"]


def test_correction_waits_for_its_new_photo_and_the_order_stays_as_it_is(clinician, fabricator):
    order = factories.order(clinician, fabricator.organisation)

    receipt = factories.correction(order, clinician, photos=[factories.named_photo(ONE)])
    order.refresh_from_db()
    assert (receipt["outcome"], order.revision_number) == ("waiting", 1)

    factories.photo(clinician, ONE)
    order.refresh_from_db()
    assert order.revision_number == 2


def test_reply_with_a_photo_is_a_reply_once_the_photo_is_here(clinician, fabricator):
    from orders import moves

    order = factories.order(clinician, fabricator.organisation)
    asked = moves.query(order, fabricator, order.current, "left", "length", "Which rim?")
    replies = [{"query": str(asked.id), "says": "See the photo."}]

    factories.correction(order, clinician, photos=[factories.named_photo(ONE)], replies=replies)
    asked.refresh_from_db()
    assert asked.state == "open"
    factories.photo(clinician, ONE)

    asked.refresh_from_db()
    assert (asked.state, asked.reply.text, asked.reply.by) == ("replied", "See the photo.", clinician)


def test_seal_that_a_later_one_was_made_from_does_not_come_between(clinician, fabricator):
    waiting = seal_naming(fabricator, ONE)
    take(clinician, waiting)
    first = json.loads(waiting)
    later = factories.seal(
        fabricator.organisation,
        order_id=first["id"],
        parent=factories.hash_of(waiting),
        visit_id=first["visit"]["id"],
    )
    assert take(clinician, later)["outcome"] == "ordered"

    factories.photo(clinician, ONE)

    order = Order.objects.get()
    assert (order.revision_number, order.contested, order.rivals.count()) == (1, False, 0)
    assert take(clinician, waiting)["outcome"] == "kept"


def test_order_comes_into_being_when_whoever_sent_it_has_left(clinician, lead, fabricator):
    take(clinician, seal_naming(fabricator, ONE))
    clinician.user.delete()

    factories.photo(lead, ONE)

    assert Event.objects.get().member_id == lead.id


def test_workshop_sees_the_photos_of_its_orders_and_no_others(
    clinician, other_clinician, fabricator, other_fabricator
):
    shown, unsent = keep_whole(clinician, a_jpeg(1)), "3" * 64
    factories.order(clinician, fabricator.organisation, photos=[factories.named_photo(shown.sha256)])
    take(
        clinician, seal_naming(fabricator, shown.sha256, unsent)
    )  # waits: nothing of it is the workshop's yet

    assert photo_to_read(fabricator, shown.sha256) == shown
    assert photos.clinics_that_sent(fabricator, shown.sha256) == {clinician.organisation_id}
    assert photos.clinics_that_sent(fabricator, unsent) == set()
    assert photos.clinics_that_sent(other_fabricator, shown.sha256) == set()


def test_photo_of_an_older_revision_stays_readable(clinician, fabricator):
    factories.photo(clinician, ONE)
    order = factories.order(clinician, fabricator.organisation, photos=[factories.named_photo(ONE)])
    factories.correction(order, clinician, factories.entry(girth=["15", "15"]))

    assert photos.clinics_that_sent(fabricator, ONE) == {clinician.organisation_id}


def test_asking_whose_photo_it_is_takes_one_query(clinician, fabricator, django_assert_num_queries):
    factories.photo(clinician, ONE)
    for _ in range(3):
        factories.order(clinician, fabricator.organisation, photos=[factories.named_photo(ONE)])

    with django_assert_num_queries(1):
        photos.clinics_that_sent(fabricator, ONE)
