from io import StringIO

import pytest
from django.core import mail as outbox
from django.core.management import call_command

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
