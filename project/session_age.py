"""A session ends a day after signing in, however much it was used; the idle limit is Django's own.

The day is the most that NIST SP 800-63B-4, section 2.2.3, recommends before somebody signs in again (from memory). As
with idleness it ends looking, never sending: the phone's drafts and its key to send stay (project/send_keys.py).
"""

import time

from django.conf import settings
from django.contrib.auth.models import AnonymousUser
from django.http import HttpRequest, HttpResponse

IN_SESSION = "signed_in_at"


def begin(sender, request: HttpRequest, user, **kwargs) -> None:
    """Signing in begins the day."""
    request.session[IN_SESSION] = time.time()


class SessionAgeMiddleware:
    """Takes a session that is too old, or doesn't say since when it is, for nobody's."""

    def __init__(self, get_response) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        if request.user.is_authenticated and is_over(request.session.get(IN_SESSION, 0), time.time()):
            # Not Django's logout, which is what a person does: it would end the phone's key as well.
            request.session.flush()
            request.user = AnonymousUser()
        return self.get_response(request)


def is_over(signed_in_at: float, now: float) -> bool:
    """Whether a session begun then is too old now; both as seconds since the epoch. One from the future is too."""
    return not 0 <= now - signed_in_at <= settings.SESSION_LONGEST_SECONDS
