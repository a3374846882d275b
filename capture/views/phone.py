"""What one phone asks about itself: what to keep, its key to send, what the server has, and signing out."""

import uuid

from django.contrib.auth import logout
from django.http import Http404, HttpRequest, JsonResponse
from django.middleware.csrf import get_token
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import get_language
from django.views.decorators.csrf import requires_csrf_token
from django.views.decorators.gzip import gzip_page
from django.views.decorators.http import require_GET, require_POST, require_safe

from capture import lookups, sync
from capture.seal import read_have_list
from capture.views.api import as_json, for_phones, for_senders, no_store
from project import send_keys
from project.access import CLINIC, bearer, for_members


# Its length tells nothing: Django pads it at random and masks the token in it anew each time.
@gzip_page
@for_phones
@require_GET
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
            "language": get_language(),
            "units": member.units,
        },
        "organisation": {"id": str(member.organisation_id), "name": member.organisation.name},
        "visits": [as_json(visit) for visit in lookups.planned_visits(member)],
        "cards": lookups.cards_for_phone(member),
    }
    return no_store(JsonResponse({**kept, **sync.for_phone(member)}))


@for_phones
@require_POST
def send_key(request: HttpRequest) -> JsonResponse:
    """The key by which this phone sends when the session has ended. The body is the key it holds, if any."""
    held = request.body[:200].decode("ascii", errors="replace")
    key, token = send_keys.given(request, held)
    told = {"member": str(key.member_id), "key": token or held, "until": key.expires_at.isoformat()}
    return no_store(JsonResponse(told))


@for_phones
@require_POST
def have(request: HttpRequest) -> JsonResponse:
    """Which of the seals and photos that a phone counts as received are here; `now` is the site's time."""
    seals, photos = read_have_list(request.body)
    here = sync.held(request.member.organisation_id, seals, photos)
    return no_store(JsonResponse({**here, "now": timezone.now().isoformat()}))


@for_senders
@require_POST
def sign_out(request: HttpRequest) -> JsonResponse:
    """Ends the session with its key; where the session has ended already, the key that the phone bears."""
    token = bearer(request)
    if token is None:
        logout(request)
    else:
        send_keys.end(token)
    return no_store(JsonResponse({"signed_out": True}))


@require_safe
@for_members(*CLINIC)
def phones(request: HttpRequest):
    """The phones that may send without signing in: one's own, and for a lead the whole clinic's."""
    context = {
        "keys": send_keys.keys_to_end(request.member),
        "this_phone": request.session.get(send_keys.IN_SESSION),
    }
    return render(request, "capture/phones.html", context)


@require_POST
@for_members(*CLINIC)
def end_key(request: HttpRequest, key_id: uuid.UUID):
    """This phone sends no more until somebody signs in on it."""
    if not send_keys.keys_to_end(request.member).filter(id=key_id).delete()[0]:
        raise Http404
    return redirect("capture:phones")
