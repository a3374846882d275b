from io import StringIO

import pytest
from django.core import mail as outbox
from django.core.management import call_command
from django.db import OperationalError

from orders.management.commands import send_mail
from tests import factories


def run(*said):
    """What the command wrote."""
    out = StringIO()
    call_command("send_mail", *said, stdout=out)
    return out.getvalue().splitlines()


@pytest.mark.django_db
def test_what_waits_is_sent_once_and_told(clinician, fabricator):
    factories.order(clinician, fabricator.organisation)

    assert run() == ["1 sent, 0 to be tried again"]
    assert run() == ["0 sent, 0 to be tried again"]
    assert len(outbox.outbox) == 1


class Stopped(Exception):
    """As somebody stops the command that goes on."""


@pytest.mark.parametrize(("every", "seconds"), [("30", 30), ("-5", 1)])
def test_it_looks_again_and_tells_only_what_it_did(monkeypatch, every, seconds):
    came, slept, out = iter([(0, 0), (2, 1), (0, 0)]), [], StringIO()

    def sleep(wait):
        slept.append(wait)
        if len(slept) == 3:
            raise Stopped

    monkeypatch.setattr(send_mail, "send_waiting", lambda: next(came))
    monkeypatch.setattr(send_mail.time, "sleep", sleep)

    with pytest.raises(Stopped):
        call_command("send_mail", "--every", every, stdout=out)

    assert out.getvalue().splitlines() == ["2 sent, 1 to be tried again"]
    assert slept == [seconds] * 3


def test_a_database_that_goes_away_is_waited_for(monkeypatch):
    """Once it ends the command, for whoever runs it by a timer sees that; beside the server it goes on."""
    gone, closed, out, errors = OperationalError("server closed the connection"), [], StringIO(), StringIO()
    came, rounds = iter([gone, (1, 0)]), []

    def send_waiting():
        if isinstance(one := next(came), Exception):
            raise one
        return one

    def sleep(_wait):
        rounds.append(out.getvalue())
        if len(rounds) == 2:
            raise Stopped

    monkeypatch.setattr(send_mail, "send_waiting", send_waiting)
    monkeypatch.setattr(send_mail.time, "sleep", sleep)
    monkeypatch.setattr(send_mail.connection, "close", lambda: closed.append(True))

    with pytest.raises(Stopped):
        call_command("send_mail", "--every", "5", stdout=out, stderr=errors)
    came = iter([gone])
    with pytest.raises(OperationalError):
        call_command("send_mail")

    assert rounds == ["", "1 sent, 0 to be tried again\n"]
    assert errors.getvalue().strip() == "the database does not answer: server closed the connection"
    assert closed == [True]
