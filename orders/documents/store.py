"""Documents are made once, for the revision that was confirmed, and served from the store ever after."""

import hashlib
import logging
import threading
import uuid

from django.conf import settings
from django.core.files.base import ContentFile
from django.core.files.storage import default_storage
from django.db import IntegrityError, connection, transaction
from django.utils import translation

from capture import photo_store
from orders.documents.kinds import Kind, documents_of
from orders.documents.shell import CannotBeMade
from orders.models import Document, Order, Revision
from orders.models.event import Event
from project.models import Member

log = logging.getLogger(__name__)

BEFORE_CONFIRMATION = (Order.State.SENT, Order.State.QUERIED)


class NotInStore(Exception):
    """A document's row is there and its bytes are not, or are others than were stored."""


def has_documents(order: Order) -> bool:
    """Whether the order's current revision was confirmed, and is not taken back: there is something to make from."""
    return order.state not in (*BEFORE_CONFIRMATION, Order.State.CANCELLED)


def document_of(order: Order, revision: Revision, kind: Kind, side: str) -> Document:
    """The document, made now if nobody has made it yet. For a confirmed order alone. Raises CannotBeMade.

    Two who make it at once make it twice and keep one: the row that came first stays, the other's bytes go.
    """
    this = {"revision": revision, "kind": kind.key, "side": side}
    there = Document.objects.filter(**this).first()
    if there:
        return there
    with translation.override(language_of(order)):
        content = kind.make(order, revision, side)
    made = Document(**this, sha256=hashlib.sha256(content).hexdigest(), bytes=len(content))
    made.stored = keep(made.id, content)
    try:
        with transaction.atomic():
            made.save(force_insert=True)
    except BaseException as error:
        photo_store.delete([made.stored])
        if isinstance(error, IntegrityError):
            return Document.objects.get(**this)
        raise
    return made


def language_of(order: Order) -> str:
    """What a document is written in: the language of whoever confirmed the order, whoever asks for it first."""
    confirmed = Event.objects.filter(order_id=order.id, what="confirm").order_by("-id").first()
    member = confirmed and Member.objects.filter(id=confirmed.member_id).first()
    return (member and member.language) or settings.LANGUAGE_CODE


def keep(document_id: uuid.UUID, content: bytes) -> str:
    """Stores a document's bytes, safe on the disk; the name to read them by."""
    name = f"documents/{document_id.hex[:2]}/{document_id.hex}"
    stored = default_storage.save(name, ContentFile(content))
    photo_store.make_safe(stored)
    return stored


def read(document: Document) -> bytes:
    """The document's bytes, as they were stored. Raises NotInStore."""
    try:
        content = photo_store.read(document.stored)
    except FileNotFoundError:
        raise NotInStore(f"document {document.id} is missing") from None
    if hashlib.sha256(content).hexdigest() != document.sha256:
        raise NotInStore(f"document {document.id} is not what was stored")
    return content


def make_soon(order: Order) -> None:
    """Has every document of a confirmed order made, in a thread that starts once the confirmation is written.

    Setting the pages takes seconds, for which nobody who confirms should wait. A server that stops before the
    thread is through loses nothing: what isn't made by then is made when it is asked for.
    """
    transaction.on_commit(threading.Thread(target=make_and_let_go, args=(order.id,)).start)


def make_and_let_go(order_id: uuid.UUID) -> None:
    """Makes them on a connection of this thread's own."""
    try:
        make_all(Order.objects.select_related("clinic", "workshop", "person").get(id=order_id))
    except Exception:
        log.exception("the documents of order %s could not be made", order_id)
    finally:
        connection.close()


def make_all(order: Order) -> None:
    """Makes every document of a confirmed order that is not made yet. Raises nothing: what failed is made later.

    Confirming must not be lost over a document: what can't be made now is made when it is asked for.
    """
    revision = order.current
    for kind, side in documents_of(revision):
        try:
            document_of(order, revision, kind, side)
        except CannotBeMade:
            log.warning("%s of order %s can not be made from its figures", kind.key, order.id)
        except Exception:
            log.exception("%s of order %s could not be made", kind.key, order.id)
