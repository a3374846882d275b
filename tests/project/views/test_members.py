import re

import pytest
from django.core import mail as outbox
from django.urls import reverse
from django.utils import timezone

from project.models import Invitation, Member, User
from tests import factories

INVITED = {"email": "New@Example.org", "initials": "N. P.", "role": "clinician"}
PASSWORD = "three dry stone walls"


def link_in_the_mail() -> str:
    return re.search(r"/join/\S+/", outbox.outbox[-1].body).group()


def test_an_invitation_by_mail_makes_a_member(client_for, lead):
    client_for(lead).post(reverse("member-invite"), INVITED)
    assert outbox.outbox[0].to == ["new@example.org"]
    stranger = client_for()

    assert stranger.get(link_in_the_mail()).status_code == 200
    answer = stranger.post(link_in_the_mail(), {"password": PASSWORD})

    member = Member.objects.get(user__email="new@example.org")
    assert (member.organisation, member.role, member.initials) == (lead.organisation, "clinician", "N. P.")
    assert answer.url == reverse("home")
    assert stranger.get(reverse("home")).url == reverse("capture:visits")


def test_an_invitation_is_used_once(client_for, lead):
    client_for(lead).post(reverse("member-invite"), INVITED)
    client_for().post(link_in_the_mail(), {"password": PASSWORD})

    answer = client_for().post(link_in_the_mail(), {"password": "another long password"})

    assert answer.status_code == 404
    assert User.objects.get(email="new@example.org").check_password(PASSWORD)


def test_an_invitation_opens_for_seven_days(client_for, lead):
    client_for(lead).post(reverse("member-invite"), INVITED)
    Invitation.objects.update(expires_at=timezone.now())

    answer = client_for().get(link_in_the_mail())

    assert answer.status_code == 404
    assert "Ask your clinic lead" in answer.content.decode()


def test_a_weak_password_is_said_at_the_field(client_for, lead):
    client_for(lead).post(reverse("member-invite"), INVITED)

    answer = client_for().post(link_in_the_mail(), {"password": "short"})

    assert answer.status_code == 422
    assert "at least 12 characters" in answer.content.decode()
    assert not Member.objects.filter(user__email="new@example.org").exists()


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"email": "nobody"}, "valid email"),
        ({"email": ""}, "required"),
        ({"initials": ""}, "required"),
        ({"initials": "N.\u202e P."}, "be seen. Type it anew."),
        ({"role": "fabricator"}, "not one of the available"),
    ],
)
def test_a_wrong_invitation_is_said_at_its_field_and_keeps_the_rest(client_for, lead, changes, says):
    answer = client_for(lead).post(reverse("member-invite"), {**INVITED, **changes})

    page = answer.content.decode()
    assert answer.status_code == 422
    assert says in page
    assert all(value in page for key, value in INVITED.items() if key not in changes)
    assert not Invitation.objects.exists()


def test_somebody_who_signs_in_already_is_not_invited(client_for, lead, clinician):
    answer = client_for(lead).post(reverse("member-invite"), {**INVITED, "email": clinician.user.email})

    assert answer.status_code == 422
    assert not outbox.outbox


def test_a_mail_that_cannot_be_sent_leaves_no_invitation(client_for, lead, settings):
    settings.EMAIL_BACKEND = "django.core.mail.backends.smtp.EmailBackend"
    settings.EMAIL_HOST, settings.EMAIL_PORT = "127.0.0.1", 1  # nobody listens there

    answer = client_for(lead).post(reverse("member-invite"), INVITED)

    assert answer.status_code == 503
    assert not Invitation.objects.exists()


def test_a_role_is_changed(client_for, lead, clinician):
    client_for(lead).post(reverse("member-role", args=[clinician.id]), {"role": "lead"})

    clinician.refresh_from_db()
    assert clinician.role == "lead"


def test_the_last_lead_stays_lead(client_for, lead):
    answer = client_for(lead).post(reverse("member-role", args=[lead.id]), {"role": "clinician"}, follow=True)

    lead.refresh_from_db()
    assert lead.role == "lead"
    assert "This is the last lead" in answer.content.decode()


def test_a_member_who_is_removed_is_out_at_once(client_for, lead, clinician):
    theirs = client_for(clinician)
    assert theirs.get("/api/phone").status_code == 200

    client_for(lead).post(reverse("member-leave", args=[clinician.id]))

    assert theirs.get("/api/phone").status_code == 401


def test_a_lead_does_not_remove_themselves(client_for, lead):
    answer = client_for(lead).post(reverse("member-leave", args=[lead.id]), follow=True)

    lead.user.refresh_from_db()
    assert lead.user.is_active
    assert "Ask another lead" in answer.content.decode()


def test_another_clinics_member_is_as_nothing(client_for, lead, other_clinician):
    client = client_for(lead)

    assert client.post(reverse("member-leave", args=[other_clinician.id])).status_code == 404
    assert client.post(reverse("member-role", args=[other_clinician.id]), {"role": "lead"}).status_code == 404


def test_another_clinics_invitation_is_as_nothing(client_for, lead, other_clinician):
    client_for(lead).post(reverse("member-invite"), INVITED)
    other_lead = factories.member("lead", other_clinician.organisation)
    address = reverse("invitation-withdraw", args=[Invitation.objects.get().id])

    assert client_for(other_lead).post(address).status_code == 404
    assert client_for(lead).post(address).status_code == 302
    assert client_for().get(link_in_the_mail()).status_code == 404


def test_only_a_lead_sees_the_members(client_for, lead, clinician, fabricator):
    address = reverse("members")

    assert client_for(lead).get(address).status_code == 200
    assert client_for(clinician).get(address).status_code == 404
    assert client_for(fabricator).get(address).status_code == 404
    assert client_for().get(address).url.startswith("/accounts/login/")
    assert client_for(lead).post(address).status_code == 405
