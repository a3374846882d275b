"""A session's longest life. Its limit: NIST SP 800-63B-4, section 2.2.3 (from memory)."""

from datetime import UTC, datetime, timedelta

import pytest

from project.models import SendKey
from project.session_age import is_over

DAY_S = 24 * 3600


@pytest.mark.parametrize(
    ("age_s", "over"), [(0, False), (DAY_S - 1, False), (DAY_S, False), (DAY_S + 1, True), (-1, True)]
)
def test_a_day_is_the_limit(age_s, over):
    assert is_over(1_800_000_000, 1_800_000_000 + age_s) is over


@pytest.fixture
def later(monkeypatch):
    """Lets time pass for the limit alone: the session is used all the while, so it is never idle."""

    def by(**time):
        then = (datetime.now(UTC) + timedelta(**time)).timestamp()
        monkeypatch.setattr("project.session_age.time.time", lambda: then)

    return by


def test_a_session_in_use_ends_a_day_after_signing_in(client_for, clinician, later):
    client = client_for(clinician)

    later(hours=23)
    assert client.get("/orders/").status_code == 200
    later(hours=25)
    answer = client.get("/orders/")

    assert answer.status_code == 302
    assert answer.url.startswith("/accounts/login/")
    assert client.get("/api/phone").status_code == 401


def test_its_end_takes_no_phone_s_key(client_for, clinician, later):
    client = client_for(clinician)
    client.post("/api/phone/key", "", content_type="text/plain")
    assert SendKey.objects.count() == 1

    later(hours=25)
    assert client.get("/api/phone").status_code == 401

    assert SendKey.objects.count() == 1


def test_a_session_that_does_not_say_its_age_is_over(client_for, clinician):
    client = client_for(clinician)
    session = client.session
    del session["signed_in_at"]
    session.save()

    assert client.get("/api/phone").status_code == 401
