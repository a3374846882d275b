"""Photos: how a phone sends one, and how a browser gets to see one."""

import base64
import errno
import hashlib
import logging
from collections.abc import Callable
from dataclasses import asdict
from functools import wraps

from django.http import Http404, HttpRequest, HttpResponse, JsonResponse
from django.http.request import UnreadablePostError
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from capture import photo_store
from capture.access import photo_to_read
from capture.models import Photo
from capture.photos.uploads import PART_BYTES_MOST, NotTaken, standing_of, take_part
from capture.views.api import for_senders, no_store, problem, wrong_verb
from project.access import for_members

log = logging.getLogger(__name__)
RETRY_SECONDS = {429: 60, 503: 5, 507: 60}


def answered_in_json(verb: str) -> Callable:
    """Turns whatever stops a view, another verb included, into a problem that the phone can read."""

    def wrap(view: Callable) -> Callable:
        @wraps(view)
        def answered(request: HttpRequest, *args, **kwargs) -> JsonResponse:
            if request.method != verb:
                return wrong_verb(verb)
            try:
                return no_store(view(request, *args, **kwargs))
            except NotTaken as refusal:
                return not_taken(refusal)
            except OSError as error:
                return not_taken(storage_failed(error))

        return answered

    return wrap


def not_taken(refusal: NotTaken) -> JsonResponse:
    """The problem, with the byte to go on from if it is known, and when to try again where that may help."""
    response = problem(refusal.status, refusal.says, have=refusal.have)
    if refusal.status in RETRY_SECONDS:
        response["Retry-After"] = str(RETRY_SECONDS[refusal.status])
    return no_store(response)


def storage_failed(error: OSError) -> NotTaken:
    """What a phone is told when a part can't be stored: it keeps the photo and tries again."""
    log.error(
        "a part of a photo could not be stored: %s", errno.errorcode.get(error.errno or 0, "no reason given")
    )
    if error.errno in {errno.ENOSPC, errno.EDQUOT}:
        return NotTaken(
            507, _("The server has no room just now. The photo stays on this phone and is sent later.")
        )
    return NotTaken(
        503, _("The server can't store photos just now. The photo stays on this phone and is sent later.")
    )


@for_senders
@answered_in_json("GET")
def photo_standing(request: HttpRequest, sha256: str) -> JsonResponse:
    """How much of a photo is here."""
    return JsonResponse(asdict(standing_of(request.member.organisation_id, sha256)))


@for_senders
@answered_in_json("PUT")
def photo_part(request: HttpRequest, sha256: str, offset: str) -> JsonResponse:
    """Takes one part of a photo. Only an answer whose state is kept or set_aside lets the phone let go of its own."""
    total_bytes = request.GET.get("bytes", "")
    if not is_count(total_bytes):
        raise NotTaken(400, _("The size of the whole photo is missing: ?bytes=…"))
    body = whole_body(request)
    return JsonResponse(asdict(take_part(request.member, sha256, int(offset), int(total_bytes), body)))


def whole_body(request: HttpRequest) -> bytes:
    """The body, as long as it was announced and, where its digest was sent along (RFC 9530), with that digest.

    Raises NotTaken: a connection that is cut reaches Django as a short body and nothing else.
    """
    length = request.META.get("CONTENT_LENGTH") or "0"  # RFC 9112, 6.3: without a length there is no body
    if not is_count(length):
        raise NotTaken(400, _("The length of this part is not a number."))
    if int(length) > PART_BYTES_MOST:
        raise NotTaken(413, _("A part of a photo is at most 256 KiB."))
    try:
        body = request.body
    except UnreadablePostError:
        body = b""
    digest = request.headers.get("Content-Digest")
    if len(body) != int(length) or (digest and not fits(body, digest)):
        raise NotTaken(400, _("This part did not arrive whole; it will be sent again."))
    return body


def is_count(text: str) -> bool:
    """Whether the text is a whole number of an ordinary size, in plain digits."""
    return text.isascii() and text.isdigit() and len(text) < 12


def fits(body: bytes, digest: str) -> bool:
    """Whether a Content-Digest header's SHA-256 is the body's; a header without one says nothing against it."""
    expected = f"sha-256=:{base64.b64encode(hashlib.sha256(body).digest()).decode()}:"
    named = [member.strip() for member in digest.split(",")]
    return expected in named or not any(member.startswith("sha-256=") for member in named)


@require_safe
@for_members()
def picture(request: HttpRequest, sha256: str, size: str) -> HttpResponse:
    """One of a photo's two pictures, for those who may see it, and for no cache on the way."""
    photo = photo_to_read(request.member, sha256)
    if photo.state != Photo.State.KEPT:
        raise Http404
    try:
        content = photo_store.read_picture(photo, int(size))
    except FileNotFoundError:
        log.error("the picture of photo %s is missing in the storage", photo.id)
        raise Http404 from None
    response = HttpResponse(content, content_type="image/jpeg")
    response["Content-Disposition"] = 'inline; filename="photo.jpg"'
    response["Cache-Control"] = "no-store"
    response["X-Content-Type-Options"] = "nosniff"
    response["Cross-Origin-Resource-Policy"] = "same-origin"
    return response
