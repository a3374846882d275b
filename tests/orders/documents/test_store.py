import hashlib
from dataclasses import replace

import pytest
from django.core.files.storage import default_storage
from django.db import DatabaseError, transaction
from django.utils import translation

from orders import moves
from orders.documents import store
from orders.documents.kinds import NAMED
from orders.documents.shell import CannotBeMade
from orders.models import Document
from project.models import Member
from tests import factories

pytestmark = pytest.mark.django_db
TABLE = NAMED["left-stations.csv"]


@pytest.fixture
def order(clinician, fabricator):
    sent = factories.order(clinician, fabricator.organisation)
    moves.confirm(sent, sent.current.seal.sha256, fabricator)
    return sent


def stored_files() -> set[str]:
    """Names of all that is stored below documents/."""
    try:
        folders, _files = default_storage.listdir("documents")
    except FileNotFoundError:
        return set()
    return {
        f"documents/{folder}/{name}"
        for folder in folders
        for name in default_storage.listdir(f"documents/{folder}")[1]
    }


def test_document_is_stored_with_its_hash_and_size(order):
    made = store.document_of(order, order.current, *TABLE)

    content = store.read(made)
    assert made.sha256 == hashlib.sha256(content).hexdigest()
    assert made.bytes == len(content)
    assert content == TABLE[0].make(order, order.current, "left")


def test_it_is_made_once(order, monkeypatch):
    first = store.document_of(order, order.current, *TABLE)
    monkeypatch.setattr(store, "keep", lambda *_: pytest.fail("made again"))

    assert store.document_of(order, order.current, *TABLE) == first


def test_it_is_written_in_the_language_of_who_confirmed_whoever_asks_for_it(order, fabricator):
    Member.objects.filter(id=fabricator.id).update(language="de")

    with translation.override("fr"):
        made = store.document_of(order, order.current, *TABLE)

    assert store.read(made).decode("utf-8-sig").startswith("Kennung,")


def test_of_two_who_make_it_at_once_the_first_stays_and_nothing_is_left_over(order, monkeypatch):
    before, keep = stored_files(), store.keep

    def slower(document_id, content):
        monkeypatch.setattr(store, "keep", keep)
        store.document_of(order, order.current, *TABLE)  # somebody else is done meanwhile
        return keep(document_id, content)

    monkeypatch.setattr(store, "keep", slower)
    made = store.document_of(order, order.current, *TABLE)

    assert [made] == list(Document.objects.filter(revision=order.current))
    assert stored_files() - before == {made.stored}


def test_nothing_stays_stored_when_its_row_can_not_be_written(order, monkeypatch):
    before = stored_files()
    monkeypatch.setattr(Document, "save", lambda *_, **__: (_ for _ in ()).throw(DatabaseError("full")))

    with pytest.raises(DatabaseError):
        store.document_of(order, order.current, *TABLE)

    assert stored_files() == before


@pytest.mark.parametrize("harm", ["gone", "changed"])
def test_bytes_that_are_not_what_was_stored_are_never_given_out(order, harm):
    made = store.document_of(order, order.current, *TABLE)
    default_storage.delete(made.stored)
    if harm == "changed":
        with default_storage.open(made.stored, "wb") as file:
            file.write(b"something else")

    with pytest.raises(store.NotInStore, match=str(made.id)):
        store.read(made)


def test_all_are_made_at_once_and_making_them_again_makes_none(order):
    store.make_all(order)
    made = set(Document.objects.values_list("id", flat=True))

    store.make_all(order)

    assert made == set(Document.objects.values_list("id", flat=True))
    assert {document.kind for document in Document.objects.all()} == {
        kind.key for kind, _side in NAMED.values()
    }


@pytest.mark.parametrize("error", [CannotBeMade("no"), RuntimeError("broken"), MemoryError()])
def test_one_that_fails_holds_up_no_other_and_is_made_later(order, monkeypatch, caplog, error):
    def fails(*_):
        raise error

    broken = replace(TABLE[0], make=fails)
    with monkeypatch.context() as now:
        now.setattr(store, "documents_of", lambda _: [(broken, "left"), NAMED["left-shell.stl"]])
        store.make_all(order)

    assert {document.kind for document in Document.objects.all()} == {"shell.stl"}
    assert str(order.id) in caplog.text
    assert store.document_of(order, order.current, *TABLE).kind == "stations.csv"


def test_row_can_not_be_changed(order):
    made = store.document_of(order, order.current, *TABLE)

    with pytest.raises(DatabaseError, match="written once"), transaction.atomic():
        Document.objects.filter(id=made.id).update(sha256="0" * 64)


@pytest.mark.parametrize(
    ("state", "has"),
    [("sent", False), ("queried", False), ("cancelled", False), ("confirmed", True)],
)
def test_only_what_is_confirmed_and_stands_has_documents(order, state, has):
    order.state = state

    assert store.has_documents(order) is has
