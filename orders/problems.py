"""What a person reports of a shell by their link: kept, told to the clinic, read by it alone."""

import uuid
from collections.abc import Collection
from dataclasses import dataclass
from datetime import datetime, timedelta

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_noop as noop

from orders import mail
from orders.models import Handout, Order, Problem
from orders.models.event import record
from project.models import Organisation

# When to stop, as the page says it, and what else there may be.
SIGNS = {
    "catches": noop("the leg catches"),
    "knee": noop("the knee does not bend or lock as before"),
    "foot": noop("the foot strikes the shell"),
    "moves": noop("the shell turns or slides down"),
    "cracks": noop("the shell cracks"),
    "skin": noop("your skin stays red for more than twenty minutes"),
    "strap": noop("a strap or a buckle is worn or broken"),
    "other": noop("something else"),
}
MOST_A_DAY = 10  # whoever finds a link could otherwise fill the clinic's list


class TooMany(Exception):
    """The link was used for as many reports as a day takes."""


@dataclass(frozen=True)
class Reported:
    """One report as the clinic reads it: what was ticked, in words, and the person's own."""

    signs: list[str]
    text: str
    at: datetime


@transaction.atomic
def report(handout: Handout, sent_as: uuid.UUID, signs: Collection[str], text: str) -> Problem:
    """Keeps a report and tells the clinic; a form that is sent twice is one report. Raises TooMany."""
    order = Order.objects.select_for_update(of=("self",)).get(id=handout.order_id)
    of_link = Problem.objects.filter(handout=handout)
    if there := of_link.filter(sent_as=sent_as).first():
        return there
    if of_link.filter(reported_at__gt=timezone.now() - timedelta(days=1)).count() >= MOST_A_DAY:
        raise TooMany
    known = [sign for sign in SIGNS if sign in signs]
    problem = Problem.objects.create(order=order, handout=handout, sent_as=sent_as, signs=known, text=text)
    mail.tell(order, "problem", Organisation.Kind.CLINIC)
    record(order.id, "problem", None, problem=str(problem.id))
    return problem


def problems_of(order: Order) -> list[Reported]:
    """What was reported of an order, newest first, in the reader's language."""
    return [
        Reported([_(SIGNS[sign]) for sign in problem.signs], problem.text, problem.reported_at)
        for problem in order.problems.all()
    ]
