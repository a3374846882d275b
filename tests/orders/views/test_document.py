import base64
from datetime import timedelta

import pytest
from django.core.files.storage import default_storage
from django.urls import reverse
from django.utils import timezone

from orders import moves
from orders.documents import store
from orders.documents.kinds import KINDS
from orders.models import Document, Look, Order
from tests import factories
from tests.orders.documents.pages import texts

pytestmark = pytest.mark.django_db


@pytest.fixture
def sent(clinician, fabricator):
    return factories.order(clinician, fabricator.organisation)


@pytest.fixture
def order(sent, fabricator):
    moves.confirm(sent, sent.current.seal.sha256, fabricator)
    return sent


def url_of(order, name="left-shell.stl"):
    return reverse("orders:document", args=[order.id, name])


@pytest.mark.parametrize(
    ("name", "media_type"),
    [
        ("left-shell.stl", "model/stl"),
        ("left-shell.3mf", "model/3mf"),
        ("left-stations.csv", "text/csv; charset=utf-8"),
        ("left-outline.dxf", "image/vnd.dxf"),
    ],
)
def test_document_comes_as_a_download_of_a_fixed_type_that_nobody_keeps(
    client_for, fabricator, order, name, media_type
):
    answer = client_for(fabricator).get(url_of(order, name))

    assert answer.status_code == 200
    assert answer["Content-Type"] == media_type
    assert answer["X-Content-Type-Options"] == "nosniff"
    assert answer["Cache-Control"] == "no-store"
    assert answer["Content-Disposition"] == f'attachment; filename="T-0001 revision 1 {name}"'
    assert "default-src 'none'" in answer["Content-Security-Policy"]


def test_it_is_served_from_the_store_the_same_every_time(client_for, fabricator, order):
    client = client_for(fabricator)
    first, second = (client.get(url_of(order)).content for _ in range(2))

    (made,) = Document.objects.filter(kind="shell.stl")
    assert first == second == store.read(made)
    digest = base64.b64encode(bytes.fromhex(made.sha256)).decode()
    assert client.get(url_of(order))["Repr-Digest"] == f"sha-256=:{digest}:"


def confirmed_in_turn(client, order, monkeypatch, on_commit):
    """Confirms as a member does, with what the thread would do afterwards done at once, on this connection."""
    monkeypatch.setattr(store.threading, "Thread", InTurn)
    monkeypatch.setattr(store.connection, "close", lambda: None)
    with on_commit(execute=True):
        promise = order.current.catalogue.content["lead_time_days"]
        day = timezone.localdate() + timedelta(days=promise)
        said = {"seal": order.current.seal.sha256, "promised_for": day.isoformat()}
        return client.post(reverse("orders:confirm", args=[order.id]), said)


class InTurn:
    """A thread that runs where it is started."""

    def __init__(self, target, args):
        self.start = lambda: target(*args)


def test_confirming_makes_them_and_the_page_lists_them(
    client_for, fabricator, sent, monkeypatch, django_capture_on_commit_callbacks
):
    client = client_for(fabricator)

    answer = confirmed_in_turn(client, sent, monkeypatch, django_capture_on_commit_callbacks)

    page = client.get(answer["Location"]).content.decode()
    assert set(Document.objects.values_list("kind", flat=True)) == {kind.key for kind in KINDS}
    assert f'href="{url_of(sent)}"><span class="unseen">Shell with its wall, </span>STL</a>' in page


@pytest.mark.parametrize("broken", ["keep", "make_all"])
def test_confirmation_stands_when_making_fails(
    client_for, fabricator, sent, monkeypatch, django_capture_on_commit_callbacks, broken
):
    def fails(*_):
        raise OSError("no space left")

    client = client_for(fabricator)
    with monkeypatch.context() as now:
        now.setattr(store, broken, fails)
        answer = confirmed_in_turn(client, sent, now, django_capture_on_commit_callbacks)

    assert answer.status_code == 302
    assert Order.objects.get(id=sent.id).state == "confirmed"
    assert not Document.objects.exists()
    assert client.get(url_of(sent)).status_code == 200


def test_who_is_refused_has_nothing_made(client_for, fabricator, sent, django_capture_on_commit_callbacks):
    with django_capture_on_commit_callbacks() as callbacks:
        client_for(fabricator).post(reverse("orders:confirm", args=[sent.id]), {"seal": "0" * 64})

    assert callbacks == []


def test_before_confirmation_there_is_nothing_to_make_from(client_for, fabricator, sent):
    assert client_for(fabricator).get(url_of(sent)).status_code == 404
    assert not Document.objects.exists()


def test_preview_says_so_is_not_kept_and_is_no_other_file(client_for, fabricator, clinician, sent):
    answer = client_for(fabricator).get(url_of(sent, "work-order-a4.pdf"))

    assert answer["Content-Type"] == "application/pdf"
    assert (
        answer["Content-Disposition"] == 'attachment; filename="PREVIEW T-0001 revision 1 work-order-a4.pdf"'
    )
    assert "PREVIEW: nothing is made from this" in texts(answer.content)[0]
    assert not Document.objects.exists()
    assert client_for(clinician).get(url_of(sent, "work-order-a4.pdf")).status_code == 200


def test_clinic_reads_the_work_order_of_its_own_order_alone(
    client_for, order, clinician, lead, other_clinician, other_fabricator
):
    for member in (clinician, lead):
        answer = client_for(member).get(url_of(order, "work-order-letter.pdf"))
        assert answer.status_code == 200
        assert "PREVIEW" not in texts(answer.content)[0]
    for member in (other_clinician, other_fabricator):
        assert client_for(member).get(url_of(order, "work-order-letter.pdf")).status_code == 404
    assert Document.objects.filter(kind="work-order-letter.pdf").count() == 1


def test_clinics_page_links_it(client_for, order, clinician):
    page = client_for(clinician).get(reverse("orders:clinic-order", args=[order.id])).content.decode()

    assert url_of(order, "work-order-a4.pdf") in page
    assert url_of(order) not in page


def test_cancelled_order_gives_nothing_out(client_for, fabricator, clinician, order):
    client_for(fabricator).get(url_of(order))
    moves.cancel(order, clinician)

    assert client_for(fabricator).get(url_of(order)).status_code == 404


@pytest.mark.parametrize("name", ["right-shell.stl", "shell.stl", "left-shell", "left-shell.stl.exe", "x"])
def test_document_that_there_is_not_is_404(client_for, fabricator, order, name):
    assert client_for(fabricator).get(url_of(order, name)).status_code == 404


def test_nobody_else_gets_it(client_for, order, other_fabricator, clinician, lead, other_clinician):
    for member in (other_fabricator, clinician, lead, other_clinician):
        assert client_for(member).get(url_of(order)).status_code == 404
    assert client_for(None).get(url_of(order))["Location"].startswith("/accounts/login/")
    assert not Document.objects.exists()


def test_it_answers_reading_only(client_for, fabricator, order):
    assert client_for(fabricator).post(url_of(order)).status_code == 405


def test_reading_it_is_written_down(client_for, fabricator, order):
    client_for(fabricator).get(url_of(order))

    assert Look.objects.filter(order_id=order.id, member_id=fabricator.id).count() == 1


@pytest.mark.parametrize("harm", ["gone", "changed"])
def test_damaged_store_is_404_and_logged(client_for, fabricator, order, caplog, harm):
    client = client_for(fabricator)
    client.get(url_of(order))
    (made,) = Document.objects.filter(kind="shell.stl")
    default_storage.delete(made.stored)
    if harm == "changed":
        with default_storage.open(made.stored, "wb") as file:
            file.write(b"\0")

    assert client.get(url_of(order)).status_code == 404
    assert str(made.id) in caplog.text


def test_what_can_not_be_made_says_why_and_the_rest_is_made(client_for, fabricator, order, monkeypatch):
    catalogue = order.current.catalogue
    content = {
        **catalogue.content,
        "walls": [{**wall, "key": "other"} for wall in catalogue.content["walls"]],
    }
    type(catalogue).objects.filter(id=catalogue.id).update(content=content)

    answer = client_for(fabricator).get(url_of(order))

    assert answer.status_code == 409
    assert "shell.wall is thin, and must be an option of the catalogue" in answer.content.decode()


def test_reference_that_is_no_file_name_becomes_one(client_for, clinician, fabricator):
    order = factories.order(clinician, fabricator.organisation, factories.entry(reference='a/b\\"c'))
    moves.confirm(order, order.current.seal.sha256, fabricator)

    answer = client_for(fabricator).get(url_of(order))

    assert answer["Content-Disposition"] == 'attachment; filename="a_b_\\"c revision 1 left-shell.stl"'


def test_where_surfaces_are_offered_the_page_says_that_they_have_no_slots(
    client_for, fabricator, clinician, sent
):
    says, address = "The surfaces have no slots for the straps", reverse("orders:order", args=[sent.id])
    assert says not in client_for(fabricator).get(address).content.decode()
    moves.confirm(sent, sent.current.seal.sha256, fabricator)

    assert client_for(fabricator).get(address).content.decode().count(says) == 1
    of_clinic = reverse("orders:clinic-order", args=[sent.id])
    assert says not in client_for(clinician).get(of_clinic).content.decode()
