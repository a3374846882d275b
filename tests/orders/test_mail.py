import pytest
from django.core import mail as outbox
from django.utils import timezone

from orders import mail
from orders.models import Mail
from tests import factories


@pytest.fixture
def order(clinician, fabricator):
    return factories.order(clinician, fabricator.organisation)


def test_a_message_holds_the_reference_and_nothing_else_of_the_person(order, fabricator, settings):
    assert mail.send_waiting() == (1, 0)

    message = outbox.outbox[0]
    assert message.to == [fabricator.user.email]
    assert message.subject == "New order T-0001"
    assert "A. B." not in message.subject + message.body
    assert settings.SITE_ADDRESS in message.body


def test_a_message_is_sent_once(order):
    mail.send_waiting()

    assert mail.send_waiting() == (0, 0)
    assert len(outbox.outbox) == 1


def test_of_two_senders_at_once_one_claims_the_row(order):
    now = timezone.now()
    as_read = Mail.objects.get()

    assert [mail.claim(as_read, now), mail.claim(as_read, now)] == [True, False]


def test_a_server_that_is_away_is_tried_again_later(order, settings):
    settings.EMAIL_BACKEND = "django.core.mail.backends.smtp.EmailBackend"
    settings.EMAIL_HOST, settings.EMAIL_PORT = "127.0.0.1", 1  # nobody listens there
    now = timezone.now()

    assert mail.send_waiting(now) == (0, 1)
    assert mail.send_waiting(now) == (0, 0)

    settings.EMAIL_BACKEND = "django.core.mail.backends.locmem.EmailBackend"
    assert mail.send_waiting(now + timezone.timedelta(minutes=3)) == (1, 0)


def test_a_message_is_not_tried_for_ever(order):
    Mail.objects.update(tries=mail.TRIES)

    assert mail.send_waiting() == (0, 0)


def test_a_line_break_in_a_reference_does_not_reach_the_subject():
    assert mail.one_line("NF-1\r\nBcc: x@example.org") == "NF-1 Bcc: x@example.org"


def test_the_leads_are_told_when_the_sender_has_left(order, lead, clinician, fabricator):
    from orders import moves

    seal = order.current.seal
    clinician.delete()
    order.refresh_from_db()
    assert type(seal).objects.get(id=seal.id).sent_by is None

    moves.confirm(order, seal.sha256, fabricator)

    assert Mail.objects.get(what="confirm").to == lead
