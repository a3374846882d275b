import pytest
from django.urls import reverse
from django.utils import timezone, translation

from orders import mail
from orders.models import Mail
from project.models import Member
from tests import factories

SETTINGS = "/settings/"


@pytest.fixture(autouse=True)
def _english_again():
    """A request leaves its language on the thread, as the next request there finds out anew."""
    yield
    translation.activate("en")


def test_a_member_chooses_language_and_units(client_for, clinician):
    client = client_for(clinician)

    answer = client.post(SETTINGS, {"language": "de", "units": "in"}, follow=True)

    member = Member.objects.get(id=clinician.id)
    assert (member.language, member.units) == ("de", "in")
    page = answer.content.decode()
    assert '<html lang="de">' in page
    assert "Gespeichert." in page


def test_what_was_chosen_holds_against_the_browsers_language(client_for, clinician):
    Member.objects.filter(id=clinician.id).update(language="es")
    client = client_for(clinician)

    page = client.get(SETTINGS, headers={"accept-language": "fr"})

    assert page["Content-Language"] == "es"


def test_without_a_choice_the_browsers_language_counts(client_for, clinician):
    client = client_for(clinician)

    assert client.get(SETTINGS, headers={"accept-language": "fr"})["Content-Language"] == "fr"
    assert client.get(SETTINGS, headers={"accept-language": "tlh"})["Content-Language"] == "en"


@pytest.mark.parametrize(
    ("language", "word"), [("es", "Contraseña"), ("de", "Passwort"), ("fr", "Mot de passe")]
)
def test_the_sign_in_page_speaks_the_browsers_language(client_for, language, word):
    page = client_for().get(reverse("account_login"), headers={"accept-language": language})

    assert word in page.content.decode()


def test_another_language_is_refused_and_nothing_is_kept(client_for, clinician):
    answer = client_for(clinician).post(SETTINGS, {"language": "tlh", "units": "mm"})

    assert answer.status_code == 422
    assert Member.objects.get(id=clinician.id).units == ""


def test_a_fabricator_has_settings_too(client_for, fabricator):
    client_for(fabricator).post(SETTINGS, {"language": "fr", "units": ""})

    page = client_for(fabricator).get(reverse("orders:bench")).content.decode()
    assert '<html lang="fr">' in page
    assert "Établi" in page


def test_the_phones_page_is_in_the_members_language(client_for, clinician):
    Member.objects.filter(id=clinician.id).update(language="de", units="in")

    told = client_for(clinician).get(reverse("capture:phone")).json()["member"]

    assert (told["language"], told["units"]) == ("de", "in")


def test_mails_speak_the_language_of_who_gets_them(clinician, fabricator, mailoutbox):
    order = factories.order(clinician, fabricator.organisation)
    Member.objects.filter(id=fabricator.id).update(language="de")
    Mail.objects.all().delete()
    mail.tell(order, "send", "workshop")

    mail.send_waiting(timezone.now())

    (sent,) = [one for one in mailoutbox if one.to == [fabricator.user.email]]
    assert sent.subject == f"Neuer Auftrag {order.person.reference}"
    assert "Melden Sie sich an" in sent.body
