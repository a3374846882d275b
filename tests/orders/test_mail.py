import email

import pytest
from django.core import mail as outbox
from django.utils import timezone

from orders import mail, moves
from orders.models import Mail
from project.mail_server import chosen
from tests import factories
from tests.orders.post_office import open_office


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
    seal = order.current.seal
    clinician.delete()
    order.refresh_from_db()
    assert type(seal).objects.get(id=seal.id).sent_by is None

    moves.confirm(order, seal.sha256, fabricator)

    assert Mail.objects.get(what="confirm").to == lead


@pytest.fixture
def by_smtp(settings):
    """Points the site at a mail server on a port of this machine, as the setting would."""

    def point(port):
        for name, value in chosen(f"smtp://127.0.0.1:{port}").items():
            setattr(settings, name, value)

    return point


def test_a_real_mail_server_gets_each_message_once(order, clinician, fabricator, by_smtp, tmp_path):
    asked = moves.query(order, fabricator, order.current, "left", "length", "To the rim?")
    factories.correction(order, clinician, replies=[{"query": str(asked.id), "says": "Yes."}])
    order.refresh_from_db()
    moves.confirm(order, order.current.seal.sha256, fabricator)

    with open_office(tmp_path) as port:
        by_smtp(port)
        assert mail.send_waiting() == (4, 0)
        assert mail.send_waiting() == (0, 0)

    got = [email.message_from_bytes(file.read_bytes()) for file in sorted(tmp_path.iterdir())]
    assert [(message["X-To"], message["Subject"]) for message in got] == [
        (fabricator.user.email, "New order T-0001"),
        (clinician.user.email, "Order T-0001: the workshop has a question"),
        (fabricator.user.email, "Order T-0001: a reply to your query"),
        (clinician.user.email, "Order T-0001 is confirmed"),
    ]
    for message in got:
        assert "A. B." not in message.as_string()
        assert "To the rim?" not in message.as_string()
        assert message["Auto-Submitted"] == "auto-generated"  # RFC 3834, section 5


def test_a_real_mail_server_that_is_busy_is_tried_again(order, by_smtp, tmp_path):
    now = timezone.now()
    with open_office(tmp_path, "451 later") as port:
        by_smtp(port)
        assert mail.send_waiting(now) == (0, 1)
    assert list(tmp_path.iterdir()) == []

    with open_office(tmp_path) as port:
        by_smtp(port)
        assert mail.send_waiting(now + timezone.timedelta(minutes=3)) == (1, 0)
    assert len(list(tmp_path.iterdir())) == 1


def test_each_thing_that_is_told_has_a_subject():
    told = {what for _state, what in moves.MOVES} - {"stage", "inspect"}

    assert set(mail.SUBJECTS) == told | {"problem"}  # which the person reports, and moves nothing
