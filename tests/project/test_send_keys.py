import hashlib
from datetime import timedelta

import pytest
from django.utils import timezone

from project import membership, send_keys
from project.models import SendKey


def key_for(member, token: str, lasts=timedelta(days=20)) -> SendKey:
    return SendKey.objects.create(
        member=member, sha256=send_keys.digest(token), expires_at=timezone.now() + lasts
    )


def test_only_the_hash_is_kept(clinician):
    key = key_for(clinician, "the text")

    assert key.sha256 == hashlib.sha256(b"the text").hexdigest()
    assert "the text" not in str(SendKey.objects.values().get())
    assert send_keys.holder_of("the text") == clinician


@pytest.mark.parametrize("token", ["", "another", "the text "])
def test_another_text_opens_nothing(clinician, token):
    key_for(clinician, "the text")

    assert send_keys.holder_of(token) is None


def test_it_ends_by_itself(clinician):
    key_for(clinician, "the text", lasts=timedelta(seconds=-1))

    assert send_keys.holder_of("the text") is None


def test_leaving_ends_it(clinician, lead):
    key_for(clinician, "the text")

    membership.leave(lead, clinician)

    assert send_keys.holder_of("the text") is None
    assert not SendKey.objects.exists()


def test_who_may_not_sign_in_sends_nothing(clinician):
    key_for(clinician, "the text")
    clinician.user.is_active = False
    clinician.user.save()

    assert send_keys.holder_of("the text") is None


def test_a_lead_may_end_the_clinics_and_a_clinician_their_own(clinician, lead, other_clinician):
    own, leads, others = (key_for(member, member.user.email) for member in (clinician, lead, other_clinician))

    assert set(send_keys.keys_to_end(clinician)) == {own}
    assert set(send_keys.keys_to_end(lead)) == {own, leads}
    assert set(send_keys.keys_to_end(other_clinician)) == {others}
