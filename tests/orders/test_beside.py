from datetime import timedelta

import pytest
from django.utils import timezone

from capture.seal import read_seal
from orders import moves
from orders.beside import beside_for
from orders.models import Order
from tests import factories

pytestmark = pytest.mark.django_db

KNEE = {"named": "polycentric", "pivots_seen": "several", "hardware_length": "4 in"}


@pytest.fixture
def first(clinician, fabricator):
    """An order for the left leg of T-0001."""
    return factories.order(clinician, fabricator.organisation)


def content_to(workshop, *entries, **changes):
    return read_seal(factories.seal(workshop, *entries, **changes))


def began(order: Order, days: int) -> None:
    """Lets an order have begun so many days ago."""
    Order.objects.filter(id=order.id).update(created_at=timezone.now() - timedelta(days=days))


def flag_ids(order: Order, shell: int = 0) -> dict[str, str]:
    return {flag["id"]: flag["level"] for flag in order.current.results[shell]["flags"]}


def test_photos_are_told_for_the_shell_they_show(clinician, fabricator):
    photos = [
        factories.named_photo("a" * 64, "knee", 0),
        factories.named_photo("b" * 64, "front", 1),
        factories.named_photo("c" * 64, "free", 0),
    ]
    entries = factories.entry(), factories.entry(side="right")
    left, right = beside_for(
        clinician.organisation_id, content_to(fabricator.organisation, *entries, photos=photos)
    )

    views = ("photo_front", "photo_side", "photo_knee", "photo_foot")
    assert [left[view] for view in views] == [False, False, True, False]
    assert [right[view] for view in views] == [True, False, False, False]


def test_without_an_earlier_order_nothing_is_known_of_one(clinician, fabricator):
    (known,) = beside_for(clinician.organisation_id, content_to(fabricator.organisation))

    assert known["earlier_days"] is known["last_length_mm"] is known["last_girth_mm"] is None


def test_an_earlier_order_is_told_with_its_age(clinician, fabricator, first):
    began(first, 12)

    (known,) = beside_for(clinician.organisation_id, content_to(fabricator.organisation))

    assert (known["earlier_days"], known["is_remake"]) == (12, False)
    assert known["last_length_mm"] is None  # sent, not made


def test_a_confirmed_order_s_shell_is_the_last_one_made(clinician, fabricator, first):
    moves.confirm(first, first.current.seal.sha256, fabricator)

    (known,) = beside_for(clinician.organisation_id, content_to(fabricator.organisation))

    # 15 1/2 in less 12.7 mm; 14 3/4 in
    assert (known["last_length_mm"], known["last_girth_mm"]) == (381, 374.65)


@pytest.mark.parametrize(
    "changes", [{"side": "right"}, {"level": "knee_disarticulation"}, {"reference": "T-0002"}]
)
def test_another_leg_or_person_is_not_the_same(clinician, fabricator, first, changes):
    (known,) = beside_for(
        clinician.organisation_id, content_to(fabricator.organisation, factories.entry(**changes))
    )

    assert known["earlier_days"] is None


def test_another_clinic_s_person_of_that_reference_is_not_the_same(other_clinician, fabricator, first):
    (known,) = beside_for(other_clinician.organisation_id, content_to(fabricator.organisation))

    assert known["earlier_days"] is None


def test_a_cancelled_order_is_as_if_it_never_was(clinician, fabricator, first):
    moves.cancel(first, clinician)

    (known,) = beside_for(clinician.organisation_id, content_to(fabricator.organisation))

    assert known["earlier_days"] is None


def test_the_order_itself_and_later_ones_are_not_earlier(clinician, fabricator, first):
    began(first, 40)
    later = factories.order(clinician, fabricator.organisation)

    own = content_to(fabricator.organisation, order_id=first.id)
    assert beside_for(clinician.organisation_id, own)[0]["earlier_days"] is None
    began(later, 35)  # a reply today counts from when its order began
    own = content_to(fabricator.organisation, order_id=later.id)
    assert beside_for(clinician.organisation_id, own)[0]["earlier_days"] == 5


def test_one_query_whatever_the_seal_holds(clinician, fabricator, first, django_assert_num_queries):
    factories.order(clinician, fabricator.organisation)
    entries = factories.entry(), factories.entry(side="right")
    content = content_to(fabricator.organisation, *entries)

    with django_assert_num_queries(1):
        beside_for(clinician.organisation_id, content)


def test_entries_that_cannot_be_read_are_left_to_the_reckoning(clinician, fabricator, first):
    content = content_to(fabricator.organisation, factories.entry(side=["left"], level=None))

    assert beside_for(clinician.organisation_id, content)[0]["earlier_days"] is None


def test_an_order_repeated_soon_comes_in_with_a_flag_that_waits_for_no_reason(clinician, fabricator, first):
    began(first, 30)
    again = factories.order(clinician, fabricator.organisation)

    assert flag_ids(again)["order.repeated"] == "explain"
    assert "The other order is 30 days old." in str(again.current.results[0]["flags"])
    assert "order.repeated" not in flag_ids(first)


def test_a_month_later_nothing_is_said(clinician, fabricator, first):
    began(first, 31)

    assert "order.repeated" not in flag_ids(factories.order(clinician, fabricator.organisation))


def test_a_shell_that_differs_from_the_last_one_made_is_told(clinician, fabricator, first):
    moves.confirm(first, first.current.seal.sha256, fabricator)
    longer = factories.entry(length=["16 1/2"], second_route=None)

    assert "order.changed" in flag_ids(factories.order(clinician, fabricator.organisation, longer))
    assert "order.changed" not in flag_ids(factories.order(clinician, fabricator.organisation))


def test_a_missing_photo_of_a_polycentric_knee_does_not_send_the_order_back(clinician, fabricator):
    order = factories.order(clinician, fabricator.organisation, factories.entry(knee=KNEE))

    assert flag_ids(order)["photo.missing"] == "explain"


def test_wanted_photos_quiet_the_flag(clinician, fabricator):
    names = {"front": "a" * 64, "side": "b" * 64, "knee": "c" * 64, "foot": "d" * 64}
    for sha256 in names.values():
        factories.photo(clinician, sha256)
    photos = [factories.named_photo(sha256, view) for view, sha256 in names.items()]

    order = factories.order(clinician, fabricator.organisation, factories.entry(knee=KNEE), photos=photos)

    assert "photo.missing" not in flag_ids(order)


def test_a_length_in_a_photo_that_the_tape_does_not_show_is_told(clinician, fabricator):
    """15 1/2 in is 393.7 mm by the tape: 402 mm in the photo agrees with it, 480 mm doesn't."""
    for sha256, mm, disagrees in (("a" * 64, 402, False), ("b" * 64, 480, True)):
        factories.photo(clinician, sha256)
        photos = [factories.named_photo(sha256, measured=factories.measured(mm))]

        order = factories.order(clinician, fabricator.organisation, photos=photos)

        assert (flag_ids(order).get("photo.disagrees") == "explain") is disagrees
