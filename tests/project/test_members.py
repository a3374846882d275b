"""The member behind a request, and the second factor that every member needs outside the demo."""

import pytest
from allauth.mfa.models import Authenticator
from django.urls import reverse


@pytest.fixture
def second_factor(settings):
    settings.SECOND_FACTOR = True


def test_a_member_without_a_second_factor_is_sent_to_set_one_up(
    second_factor, client_for, clinician, built_pages
):
    client = client_for(clinician)

    assert client.get(reverse("capture:visits")).url == reverse("mfa_index")
    phone = client.get("/api/phone")
    assert (phone.status_code, phone["Content-Type"]) == (401, "application/problem+json")


def test_setting_it_up_and_signing_out_stay_open(second_factor, client_for, clinician):
    client = client_for(clinician)

    assert client.get(reverse("mfa_index")).status_code in (200, 302)
    assert client.get(reverse("account_logout")).status_code == 200


def test_a_member_with_a_second_factor_comes_in(second_factor, client_for, clinician, built_pages):
    Authenticator.objects.create(user=clinician.user, type=Authenticator.Type.TOTP, data={"secret": "x"})

    assert client_for(clinician).get(reverse("capture:visits")).status_code == 200


def test_nobody_signs_up_by_themselves(client_for, db):
    assert client_for().get("/accounts/signup/").status_code == 404
    assert client_for().post("/accounts/signup/", {"email": "a@example.org"}).status_code == 404


def test_a_wrong_password_is_said_and_the_address_stays(client_for, clinician):
    answer = client_for().post(reverse("account_login"), {"login": clinician.user.email, "password": "wrong"})

    page = answer.content.decode()
    assert answer.status_code == 200
    assert clinician.user.email in page
    assert 'role="alert"' in page


def test_each_has_their_own_first_page(client_for, clinician, lead, fabricator):
    home = reverse("home")

    assert client_for(clinician).get(home).url == reverse("capture:visits")
    assert client_for(lead).get(home).url == reverse("orders:clinic-orders")
    assert client_for(fabricator).get(home).url == reverse("orders:bench")
    assert client_for().get(home).url.startswith(reverse("account_login"))


def test_signing_in_leaves_no_message_for_a_later_page(client_for, clinician, built_pages):
    clinician.user.set_password("three dry stone walls")
    clinician.user.save()
    client = client_for()

    client.post(
        reverse("account_login"), {"login": clinician.user.email, "password": "three dry stone walls"}
    )

    assert "Successfully" not in client.get("/orders/").content.decode()


def test_the_phone_s_page_reads_at_once_who_signed_in(client_for, clinician, lead, built_pages):
    client = client_for(clinician)
    page = reverse("capture:visits")

    mark = client.get(page).cookies["member"]
    assert (mark.value, mark["httponly"], mark["samesite"]) == (str(clinician.id), "", "Lax")
    assert "member" not in client.get(page).cookies  # it stands there already

    client.force_login(lead.user)
    assert client.get(page).cookies["member"].value == str(lead.id)
    assert "member" not in client_for().get(reverse("account_login")).cookies


def test_signing_in_itself_says_who(client_for, clinician, built_pages):
    clinician.user.set_password("three dry stone walls")
    clinician.user.save()

    answer = client_for().post(
        reverse("account_login"), {"login": clinician.user.email, "password": "three dry stone walls"}
    )

    assert answer.cookies["member"].value == str(clinician.id)
