import pytest
from django.urls import reverse

from capture.models import Photo
from capture.photos.uploads import keep_whole
from tests import factories
from tests.capture.photos.pictures import a_jpeg

pytestmark = pytest.mark.django_db
ASIDE = "d" * 64


@pytest.fixture
def photo(clinician):
    return keep_whole(clinician, a_jpeg())


@pytest.fixture
def order(clinician, fabricator, photo):
    factories.photo(clinician, ASIDE, reason=Photo.Reason.DAMAGED)
    named = [factories.named_photo(photo.sha256, "foot"), factories.named_photo(ASIDE, "knee")]
    return factories.order(clinician, fabricator.organisation, photos=named)


def url_of(order, sha256):
    return reverse("orders:photo", args=[order.id, sha256])


def order_page(client, order, **asked):
    return client.get(reverse("orders:order", args=[order.id]), asked)


def test_strip_shows_each_photo_small_with_its_view_and_a_text_alternative(
    client_for, fabricator, order, photo
):
    client = client_for(fabricator)

    page = order_page(client, order).content.decode()

    assert f'<img src="/photos/{photo.sha256}/320" alt="T-0001, left: photo, foot, near"' in page
    assert f'href="{url_of(order, photo.sha256)}?revision=1"' in page
    assert client.get(f"/photos/{photo.sha256}/320").status_code == 200


def test_photo_that_was_set_aside_keeps_its_place_and_says_why(client_for, fabricator, order):
    page = order_page(client_for(fabricator), order).content.decode()

    assert "its file was damaged or cut off" in page
    assert "knee, near" in page
    assert f"/photos/{ASIDE}/" not in page


def test_what_was_measured_in_a_photo_stands_at_it_as_a_check_on_the_tape(
    client_for, fabricator, clinician, photo
):
    named = [factories.named_photo(photo.sha256, measured=factories.measured(402))]
    order = factories.order(clinician, fabricator.organisation, photos=named)
    client = client_for(fabricator)

    for page in (order_page(client, order), client.get(url_of(order, photo.sha256))):
        told = page.content.decode()
        assert "Length 402 ± " in told
        assert "read in the photo by a sheet of A4. A check on the tape, never in its place." in told


def test_order_without_photos_says_so(client_for, fabricator, clinician):
    order = factories.order(clinician, fabricator.organisation)

    assert "No photos were sent." in order_page(client_for(fabricator), order).content.decode()


def test_each_shell_has_its_own_photos(client_for, fabricator, clinician, photo):
    both = factories.entry(side="left"), factories.entry(side="right", girth=["15", "15"])
    named = [factories.named_photo(photo.sha256, entry=1), factories.named_photo(photo.sha256, entry=1)]
    order = factories.order(clinician, fabricator.organisation, *both, photos=named)

    shells = order_page(client_for(fabricator), order).context["shells"]

    assert [[shown.alt for shown in shell.photos] for shell in shells] == [[], ["T-0001, right: photo, side"]]


def test_photos_are_those_of_the_revision_that_is_read(client_for, fabricator, clinician, order, photo):
    factories.correction(order, clinician)
    client = client_for(fabricator)

    assert "No photos were sent." in order_page(client, order).content.decode()
    assert photo.sha256 in order_page(client, order, revision="1").content.decode()
    assert client.get(url_of(order, photo.sha256), {"revision": "1"}).status_code == 200
    assert client.get(url_of(order, photo.sha256)).status_code == 404


def test_large_photo_stands_on_a_page_of_its_own(client_for, fabricator, order, photo):
    page = client_for(fabricator).get(url_of(order, photo.sha256)).content.decode()

    assert f'<img src="/photos/{photo.sha256}/1600" alt="T-0001, left: photo, foot, near"' in page
    assert "Ask about this photo" in page
    assert "style=" not in page


def test_photo_page_answers_reading_only(client_for, fabricator, order, photo):
    assert client_for(fabricator).post(url_of(order, photo.sha256)).status_code == 405


@pytest.mark.parametrize("sha256", [ASIDE, "e" * 64, "nonsense"])
def test_photo_that_can_not_be_shown_or_is_not_there_is_404(client_for, fabricator, order, sha256):
    assert client_for(fabricator).get(url_of(order, sha256)).status_code == 404


def test_nobody_else_sees_it(client_for, order, photo, other_fabricator, clinician, lead, other_clinician):
    for member in (other_fabricator, clinician, lead, other_clinician):
        assert client_for(member).get(url_of(order, photo.sha256)).status_code == 404
    stranger = client_for(None).get(url_of(order, photo.sha256))
    assert stranger["Location"].startswith("/accounts/login/")


def test_the_clinic_sees_what_it_sent(client_for, clinician, lead, other_clinician, fabricator, order, photo):
    address = reverse("orders:clinic-photo", args=[order.id, photo.sha256])
    for member in (clinician, lead):
        client = client_for(member)
        page = client.get(reverse("orders:clinic-order", args=[order.id])).content.decode()
        assert f'href="{address}?revision=1"><img src="/photos/{photo.sha256}/320"' in page
        assert "its file was damaged or cut off" in page
        large = client.get(address).content.decode()
        assert f'<img src="/photos/{photo.sha256}/1600" alt="T-0001, left: photo, foot, near"' in large
        assert reverse("orders:clinic-order", args=[order.id]) in large
        assert "Ask about this photo" not in large

    for member in (other_clinician, fabricator):
        assert client_for(member).get(address).status_code == 404


def test_the_clinics_thread_says_which_photo_was_asked_about(client_for, clinician, fabricator, order, photo):
    asked = {"revision": "1", "side": "left", "field": f"photo:{photo.sha256}", "text": "What is this pin?"}
    client_for(fabricator).post(reverse("orders:query-ask", args=[order.id]), asked)

    page = client_for(clinician).get(reverse("orders:clinic-order", args=[order.id])).content.decode()

    address = reverse("orders:clinic-photo", args=[order.id, photo.sha256])
    assert f'<a href="{address}?revision=1">Photo, foot, near</a>' in page


def test_query_on_a_photo_is_pinned_to_it(client_for, fabricator, order, photo):
    client = client_for(fabricator)
    asked = {"revision": "1", "side": "left", "field": f"photo:{photo.sha256}", "text": "What is this pin?"}

    client.post(reverse("orders:query-ask", args=[order.id]), asked)

    page = order_page(client, order).content.decode()
    (query,) = order.queries.all()
    assert f'href="#query-{query.id}">asked<span class="unseen">: Photo, foot, near' in page
    assert f'id="query-{query.id}"' in page


def test_more_photos_make_no_more_sql(client_for, fabricator, clinician, django_assert_max_num_queries):
    client, counts = client_for(fabricator), []
    for many in (1, 6):
        hashes = [f"{many}{place}" * 32 for place in range(many)]
        for sha256 in hashes:
            factories.photo(clinician, sha256)
        named = [factories.named_photo(sha256) for sha256 in hashes]
        order = factories.order(clinician, fabricator.organisation, photos=named)
        with django_assert_max_num_queries(99) as made:
            order_page(client, order)
        counts.append(len(made))

    assert counts[0] == counts[1]
