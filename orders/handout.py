"""The patient's link: made, opened, replaced and withdrawn."""

import hashlib
import secrets
from datetime import timedelta

from django.db import transaction
from django.utils import timezone

from orders.models import Handout, Order
from orders.models.event import record
from project.models import Member

TOKEN_BYTES = 16  # 128 bits: not to be guessed
# What the person's page is read in, each in its own words. The texts are in project/locale.
LANGUAGES = {"en": "English", "es": "Español", "de": "Deutsch", "fr": "Français", "ar": "العربية"}
LASTS = timedelta(days=400)  # a year and a month: past the yearly service of the prosthesis


class LinkDead(Exception):
    """The link doesn't open. `why` is wrong, expired or withdrawn; `handout` is None for a wrong one."""

    def __init__(self, why: str, handout: Handout | None = None) -> None:
        super().__init__(why)
        self.why, self.handout = why, handout


@transaction.atomic
def make(order: Order, member: Member, language: str = "en") -> tuple[Handout, str]:
    """A new link for the order's current revision, and its token, which is shown now and never again.

    An older link of the same order stops working: a changed shell must not be put on by the old page.
    Raises ValueError for a language that there are no texts for.
    """
    if language not in LANGUAGES:
        raise ValueError(f"no handout in {language!r}")
    withdraw_all(order, member)
    token = secrets.token_urlsafe(TOKEN_BYTES)
    handout = Handout.objects.create(
        order=order,
        revision=order.current,
        language=language,
        token_sha256=digest(token),
        made_by=member,
        expires_at=timezone.now() + LASTS,
    )
    record(order.id, "handout made", member, handout=str(handout.id))
    return handout, token


@transaction.atomic
def withdraw_all(order: Order, member: Member) -> int:
    """Stops every open link of the order; how many."""
    stopped = 0
    for handout in order.handouts.filter(withdrawn_at=None):
        stopped += Handout.objects.filter(id=handout.id, withdrawn_at=None).update(
            withdrawn_at=timezone.now()
        )
        record(order.id, "handout withdrawn", member, handout=str(handout.id))
    return stopped


def opened(token: str) -> Handout:
    """The handout behind a link, as often as it is asked for: a preview does not use it up. Raises LinkDead."""
    handout = (
        Handout.objects.select_related("order__clinic", "revision__catalogue")
        .filter(token_sha256=digest(token))
        .first()
    )
    if handout is None:
        raise LinkDead("wrong")
    if handout.withdrawn_at is not None:
        raise LinkDead("withdrawn", handout)
    if not handout.is_open:
        raise LinkDead("expired", handout)
    return handout


def digest(token: str) -> str:
    """What is kept of a token."""
    return hashlib.sha256(token.encode()).hexdigest()
