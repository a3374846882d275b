"""What the phone talks to: JSON in, JSON out, never a page and never a redirect."""

import uuid
from collections.abc import Callable
from functools import wraps

from django.core.exceptions import RequestDataTooBig
from django.http import Http404, HttpRequest, JsonResponse
from django.middleware.csrf import get_token
from django.utils.translation import gettext as _
from django.views.decorators.csrf import requires_csrf_token
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from capture import lookups, services, sync
from capture.seal import SealError, read_planned_visit
from project.access import CLINIC, may_enter


def problem(status: int, title: str, errors: list[dict] | None = None, **more) -> JsonResponse:
    """An error as RFC 9457 has it, with the fields it is about, and what else the phone can use."""
    body = {"type": "about:blank", "status": status, "title": title, "errors": errors or [], **more}
    return JsonResponse(body, status=status, content_type="application/problem+json")


def for_phones(view: Callable) -> Callable:
    """Lets in a clinic's members; everything else is a problem in JSON."""

    @wraps(view)
    def answered(request: HttpRequest, *args, **kwargs) -> JsonResponse:
        if not request.user.is_authenticated:
            return problem(401, _("You are signed out. Sign in again; everything on this phone stays."))
        if not may_enter(request.member, CLINIC):
            return problem(404, _("There is nothing here."))
        try:
            return view(request, *args, **kwargs)
        except Http404:
            return problem(404, _("There is nothing here."))
        except SealError as error:
            return problem(400, str(error), [{"field": error.field, "says": error.says}])
        except RequestDataTooBig:
            return problem(413, _("That is too long."))

    return answered


@require_GET
@for_phones
@requires_csrf_token
def phone(request: HttpRequest) -> JsonResponse:
    """Everything a phone keeps for when there is no signal."""
    member = request.member
    kept = {
        "csrf": get_token(request),
        "member": {
            "id": str(member.id),
            "name": str(member.user),
            "initials": member.initials,
            "role": member.role,
        },
        "organisation": {"id": str(member.organisation_id), "name": member.organisation.name},
        "visits": [as_json(visit) for visit in lookups.planned_visits(member)],
    }
    return no_store(JsonResponse({**kept, **sync.for_phone(member)}))


@require_POST
@for_phones
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


@require_http_methods(["PUT"])
@for_phones
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
