"""What the phone talks to: JSON in, JSON out, never a page and never a redirect."""

import logging
import uuid
from collections.abc import Callable
from functools import wraps

from django.core.exceptions import RequestDataTooBig
from django.db import OperationalError
from django.http import Http404, HttpRequest, HttpResponseNotAllowed, JsonResponse
from django.http.request import UnreadablePostError
from django.utils.translation import gettext as _
from django.views.decorators.csrf import csrf_exempt, csrf_protect
from django.views.decorators.http import require_http_methods, require_POST

from capture import services, sync
from capture.seal import SealError, read_planned_visit
from project.access import CLINIC, bearer, may_enter, sender_of
from project.members import speak_to

log = logging.getLogger(__name__)


def problem(status: int, title: str, errors: list[dict] | None = None, **more) -> JsonResponse:
    """An error as RFC 9457 has it, with the fields it is about, and what else the phone can use.

    `again=True` says that nothing is wrong with what was sent: the phone sends the very same later.
    """
    body = {"type": "about:blank", "status": status, "title": title, "errors": errors or [], **more}
    return no_store(JsonResponse(body, status=status, content_type="application/problem+json"))


def for_phones(view: Callable) -> Callable:
    """Lets in a clinic's members; everything else is a problem in JSON."""

    @wraps(view)
    def answered(request: HttpRequest, *args, **kwargs) -> JsonResponse:
        if not request.user.is_authenticated:
            return problem(401, _("You are signed out. Sign in again; everything on this phone stays."))
        if not may_enter(request.member, CLINIC):
            return problem(404, _("There is nothing here."))
        return in_json(view, request, *args, **kwargs)

    return answered


def for_senders(view: Callable) -> Callable:
    """Lets in whoever bears a send key of a clinic's member; without one, a clinic's members as for_phones does.

    A key comes in a header and never by itself, as a cookie would: no page elsewhere can make a browser send it, so
    only the session needs the CSRF token. A request that bears a key is judged by it alone.
    """
    by_session = csrf_protect(for_phones(view))

    @csrf_exempt
    @wraps(view)
    def answered(request: HttpRequest, *args, **kwargs) -> JsonResponse:
        if bearer(request) is None:
            return by_session(request, *args, **kwargs)
        request.member = sender_of(request)
        if not may_enter(request.member, CLINIC):
            return problem(401, _("This phone may not send any more. Sign in again; everything on it stays."))
        speak_to(request.member)
        return in_json(view, request, *args, **kwargs)

    return answered


def in_json(view: Callable, request: HttpRequest, *args, **kwargs) -> JsonResponse:
    """The view's answer, or what went wrong as a problem."""
    try:
        response = view(request, *args, **kwargs)
        if isinstance(response, HttpResponseNotAllowed):
            response = wrong_verb(response["Allow"])
        return response
    except Http404:
        return problem(404, _("There is nothing here."))
    except sync.Erased as erased:
        return problem(410, str(erased))
    except SealError as error:
        cut = {"again": True} if isinstance(error, sync.CutShort) else {}
        return problem(400, str(error), [{"field": error.field, "says": error.says}], **cut)
    except RequestDataTooBig:
        return problem(413, _("That is too long."))
    except UnreadablePostError:
        return problem(400, _("It did not arrive whole; it will be sent again."), again=True)
    except OperationalError as error:
        # The database is locked for longer than it waits, or its disk is full: nothing was stored.
        log.error("the database could not be written to: %s", type(error.__cause__ or error).__name__)
        return problem(503, _("The site can't store it just now. It stays on this phone and is sent later."))


def wrong_verb(allowed: str) -> JsonResponse:
    """405, with the verbs that would do."""
    response = problem(405, _("This can't be done here."))
    response["Allow"] = allowed
    return response


@for_phones
@require_POST
def plan_visit(request: HttpRequest) -> JsonResponse:
    """A visit made on the phone; asked twice, it is made once."""
    wanted = read_planned_visit(request.body)
    visit, made = services.plan_visit(
        request.member,
        wanted["id"],
        wanted["reference"],
        wanted["initials"] or "",
        wanted["planned_for"],
    )
    return no_store(JsonResponse(as_json(visit), status=201 if made else 200))


@for_senders
@require_http_methods(["PUT"])
def seal(request: HttpRequest, order_id: str, sha256: str) -> JsonResponse:
    """Takes the exact bytes that the phone froze, and answers with a receipt that names them."""
    return no_store(JsonResponse(sync.take_seal(request.member, uuid.UUID(order_id), sha256, request.body)))


def not_here(request: HttpRequest, *args, **kwargs) -> JsonResponse:
    """Any other address below /api/."""
    return problem(404, _("There is nothing here."))


def as_json(visit) -> dict:
    """A visit as the phone keeps it."""
    planned = visit.planned_for.isoformat() if visit.planned_for else None
    return {
        "id": str(visit.id),
        "reference": visit.person.reference,
        "initials": visit.person.initials,
        "planned_for": planned,
    }


def no_store(response: JsonResponse) -> JsonResponse:
    """Keeps a person's data out of every cache on the way."""
    response["Cache-Control"] = "no-store"
    return response
