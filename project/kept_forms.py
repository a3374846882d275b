"""A form that is sent when its session has ended: kept until its member has signed in again, who then sends it by a tap.

It lies in the stranger's own session, for an hour, and goes with it. Whoever signs in as somebody else is not shown it.
"""

import uuid
from dataclasses import dataclass

from django.conf import settings
from django.http import HttpRequest

from project.models import Member

KEPT = "kept_form"
LASTS_S = 3600
MOST_LETTERS = 200_000  # a whole catalogue has some 20,000
TOKEN = "csrfmiddlewaretoken"  # that of the session that ended


@dataclass(frozen=True)
class KeptForm:
    """Where it was sent to and what was typed, each as (name, value); whether files went along, which are not kept."""

    path: str
    fields: list[tuple[str, str]]
    had_files: bool


def keep(request: HttpRequest) -> bool:
    """Keeps what a signed-out request sends; whether there was something to keep, of a member, and not too much."""
    member = member_before(request)
    if request.method != "POST" or member is None:
        return False
    fields = [(name, value) for name, values in request.POST.lists() if name != TOKEN for value in values]
    if sum(len(name) + len(value) for name, value in fields) > MOST_LETTERS:
        return False
    request.session[KEPT] = {
        "member": str(member),
        "path": request.get_full_path(),
        "fields": fields,
        "had_files": bool(request.FILES),
    }
    request.session.set_expiry(LASTS_S)
    return True


def member_before(request: HttpRequest) -> uuid.UUID | None:
    """Who was signed in here last, as the browser says; None for nobody that there is. It opens nothing."""
    try:
        member_id = uuid.UUID(request.COOKIES.get(settings.MEMBER_COOKIE_NAME, ""))
    except ValueError:
        return None
    return member_id if Member.objects.filter(id=member_id).exists() else None


def kept_for(request: HttpRequest) -> KeptForm | None:
    """What waits for this member."""
    kept = request.session.get(KEPT)
    if not kept or kept["member"] != str(request.member.id):
        return None
    return KeptForm(kept["path"], [(name, value) for name, value in kept["fields"]], kept["had_files"])


def let_go(request: HttpRequest) -> None:
    """Forgets it: it is being sent, or not wanted."""
    request.session.pop(KEPT, None)
