"""One document of an order: from the store once it is confirmed, before that a preview where there is one."""

import base64
import hashlib
import logging
import uuid

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.http import content_disposition_header
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from orders.access import order_to_make, order_to_read
from orders.documents.kinds import NAMED, Kind
from orders.documents.shell import CannotBeMade, plain
from orders.documents.store import BEFORE_CONFIRMATION, NotInStore, document_of, has_documents, read
from orders.models import Order, Revision
from orders.models.event import note_look
from project.access import for_members
from project.models import Member

log = logging.getLogger(__name__)


@require_safe
@for_members()
def document(request: HttpRequest, order_id: uuid.UUID, name: str) -> HttpResponse:
    """The document with this name, of the revision that counts."""
    found, kind, side = document_asked(request.member, order_id, name)
    revision = found.current
    if kind.per_shell and side not in {entry["side"] for entry in revision.entries}:
        raise Http404
    try:
        content = content_of(found, revision, kind, side)
    except CannotBeMade as error:
        context = {"order": found, "title": _(kind.title), "says": error.says}
        return render(request, "orders/document_not_made.html", context, status=409)
    note_look(found, request.member)
    return as_file(content, kind, file_name(found, revision, kind.name(side)))


def document_asked(member: Member, order_id: uuid.UUID, name: str) -> tuple[Order, Kind, str]:
    """The order, the kind and the side that are asked for, or Http404 for what this member may not have."""
    kind, side = NAMED.get(name, (None, ""))
    if kind is None:
        raise Http404
    found = order_to_read(member, order_id) if kind.for_clinic else order_to_make(member, order_id)
    return found, kind, side


def content_of(found: Order, revision: Revision, kind: Kind, side: str) -> bytes:
    """The stored bytes, or a preview's. Raises CannotBeMade; Http404 for what the order doesn't have now."""
    if found.state in BEFORE_CONFIRMATION and kind.preview:
        return kind.preview(found, revision)
    if not has_documents(found):
        raise Http404
    try:
        return read(document_of(found, revision, kind, side))
    except NotInStore as error:
        log.error("%s", error)
        raise Http404 from None


def file_name(found: Order, revision: Revision, name: str) -> str:
    """What the file is called on the disk of who downloads it: the clinic's reference, but nobody's initials."""
    reference = plain(found.person.reference).replace("/", "_").replace("\\", "_")
    preview = "PREVIEW " if found.state in BEFORE_CONFIRMATION else ""
    return f"{preview}{reference} revision {revision.number} {name}"


def as_file(content: bytes, kind: Kind, name: str) -> HttpResponse:
    """A download that no browser takes for anything else and no cache keeps, with its digest by RFC 9530."""
    response = HttpResponse(content, content_type=kind.media_type)
    response["Content-Disposition"] = content_disposition_header(as_attachment=True, filename=name)
    digest = base64.b64encode(hashlib.sha256(content).digest()).decode()
    response["Repr-Digest"] = f"sha-256=:{digest}:"
    response["Cache-Control"] = "no-store"
    response["X-Content-Type-Options"] = "nosniff"
    response["Cross-Origin-Resource-Policy"] = "same-origin"
    return response
