"""Telling the other side by mail: rows written with the move, sent by `manage.py send_mail`. Nothing personal in them."""

from datetime import timedelta

from django.conf import settings
from django.core.mail import EmailMessage
from django.db.models import F, Q
from django.utils import timezone, translation
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from orders.models import Mail, Order
from project.models import Member, Organisation

# What each move tells, by who gets it. {reference} is the clinic's own reference, the one thing that is named.
SUBJECTS = {
    "send": gettext_lazy("New order {reference}"),
    "correct": gettext_lazy("Order {reference}: a new revision"),
    "reply": gettext_lazy("Order {reference}: a reply to your query"),
    "query": gettext_lazy("Order {reference}: the workshop has a question"),
    "withdraw": gettext_lazy("Order {reference}: the question was withdrawn"),
    "pick": gettext_lazy("Order {reference}: the clinic has picked a version"),
    "confirm": gettext_lazy("Order {reference} is confirmed"),
    "start": gettext_lazy("Order {reference} is in making and can't be cancelled any more"),
    "make": gettext_lazy("Order {reference} is made"),
    "ship": gettext_lazy("Order {reference} is on its way"),
    "cancel": gettext_lazy("Order {reference} is cancelled"),
    "problem": gettext_lazy("Order {reference}: the person reports a problem"),
}
BY_ITSELF = {"Auto-Submitted": "auto-generated"}  # RFC 3834: so that nobody's out-of-office answers it
TRIES = 8
CLAIM = timedelta(minutes=5)  # how long a sender that died keeps others from trying again


def tell(order: Order, what: str, side: str) -> None:
    """Writes the mail rows for a move. Call it in the move's transaction."""
    Mail.objects.bulk_create(Mail(order=order, to=member, what=what) for member in told(order, side))


def told(order: Order, side: str) -> list[Member]:
    """Who is told: everybody at the workshop's bench, or the clinician who sent the last revision (else the leads)."""
    if side == Organisation.Kind.WORKSHOP:
        return list(Member.objects.filter(organisation_id=order.workshop_id, role=Member.Role.FABRICATOR))
    sender = order.current.seal.sent_by
    if sender is not None and sender.organisation_id == order.clinic_id:
        return [sender]
    return list(Member.objects.filter(organisation_id=order.clinic_id, role=Member.Role.LEAD))


def send_waiting(now=None) -> tuple[int, int]:
    """Sends what waits; how many went out, and how many failed and wait for another try."""
    now = now or timezone.now()
    sent = failed = 0
    waiting = Mail.objects.filter(sent_at=None, not_before__lte=now, tries__lt=TRIES)
    for mail in waiting.select_related("order__person", "to__user").order_by("id"):
        if not claim(mail, now):
            continue
        if deliver(mail):
            Mail.objects.filter(id=mail.id).update(sent_at=timezone.now())
            sent += 1
        else:
            Mail.objects.filter(id=mail.id).update(not_before=now + timedelta(minutes=2**mail.tries))
            failed += 1
    return sent, failed


def claim(mail: Mail, now) -> bool:
    """Takes the row for this sender: of two at once, one conditional UPDATE finds nothing left to change."""
    still = Q(id=mail.id, sent_at=None, tries=mail.tries, not_before__lte=now)
    return bool(Mail.objects.filter(still).update(not_before=now + CLAIM, tries=F("tries") + 1))


def deliver(mail: Mail) -> bool:
    """Hands one message to the mail server. What goes wrong there is the next try's business."""
    reference = mail.order.person.reference
    with translation.override(mail.to.language or settings.LANGUAGE_CODE):
        text = _("Sign in to see it. This message holds nothing but the reference, on purpose.")
        message = EmailMessage(
            subject=SUBJECTS[mail.what].format(reference=one_line(reference)),
            body=f"{text}\n\n{settings.SITE_ADDRESS}\n",
            to=[mail.to.user.email],
            headers=BY_ITSELF,
        )
    try:
        return bool(message.send())
    except OSError:
        return False


def one_line(text: str) -> str:
    """A reference without line breaks, which a subject must not hold."""
    return " ".join(text.split())
