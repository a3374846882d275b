"""The demo's world: whole, in every state that there is, and the same when it is loaded again."""

from django.test import TestCase

from capture.models import ComponentCard, Photo, Seal
from fixtures_demo import world
from fixtures_demo.load import load
from orders.models import Event, Handout, Order
from orders.news import news_of
from project.models import Member, Organisation


class TestWorld(TestCase):
    """Loaded once for all of these: every photo of it goes through the real intake."""

    @classmethod
    def setUpTestData(cls):
        load()

    def order(self, reference: str) -> Order:
        return Order.objects.get(person__reference=reference)

    def test_everything_of_the_world_is_there_once(self):
        references = set(Order.objects.values_list("person__reference", flat=True))
        assert references == {order.reference for order in world.ORDERS}
        assert Organisation.objects.count() == len(world.CLINICS) + len(world.WORKSHOPS)
        assert Member.objects.count() == len(world.MEMBERS)
        assert ComponentCard.objects.count() == len(world.CARDS)
        before = (Event.objects.count(), Seal.objects.count(), Photo.objects.count())

        load()

        assert (Event.objects.count(), Seal.objects.count(), Photo.objects.count()) == before
        assert ComponentCard.objects.count() == len(world.CARDS)

    def test_there_is_an_order_in_every_state(self):
        assert set(Order.objects.values_list("state", flat=True)) == set(Order.State.values)
        assert Order.objects.get(contested=True).person.reference == "NF-0151"

    def test_the_misunderstanding_is_asked_about_and_replied_to(self):
        order = self.order("NF-0147")

        assert (order.state, order.revision_number, order.queries.get().state) == ("sent", 2, "replied")
        was, now = (revision.results[0]["lower_strap_mm"] for revision in order.revisions.order_by("number"))
        # 3 1/2 in, then 3 in: 88.9 and 76.2 mm less a gap of 19.05, with 10 clear and half a strap of 25
        assert (was, now) == (92.35, 79.65)

    def test_both_legs_go_in_one_order_with_a_link_for_the_person(self):
        order = self.order("NF-0141")

        assert [entry["side"] for entry in order.current.entries] == ["left", "right"]
        assert Handout.objects.get().order == order

    def test_no_photo_of_the_demo_is_set_aside(self):
        assert {photo.state for photo in Photo.objects.all()} == {"kept"}

    def test_there_is_news_for_both_sides_and_not_of_everything(self):
        clinician, workshop = (
            Member.objects.get(user__email=mail)
            for mail in ("clinician@northfell.example", "workshop@tarnstreet.example")
        )

        replied, untouched, seen = (
            self.order(reference).id for reference in ("NF-0147", "NF-0150", "NF-0144")
        )
        confirmed, handed_over = self.order("NF-0136").id, self.order("NF-0141").id
        assert (news_of(workshop).get(replied), news_of(workshop).get(untouched)) == ("reply", "send")
        assert news_of(clinician).get(confirmed) == "confirm"
        assert not {seen, confirmed} & set(news_of(workshop))
        assert handed_over not in news_of(clinician)
