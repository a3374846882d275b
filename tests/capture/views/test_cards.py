import pytest
from django.urls import reverse
from django.utils import timezone

from capture import services
from capture.models import ComponentCard
from tests import factories

pytestmark = pytest.mark.django_db
GIVEN = {"label": "Ours, charged", "allows_shell": "no", "knee.control": "microprocessor"}


def told_to_phone(client) -> list[dict]:
    return client.get(reverse("capture:phone")).json()["cards"]


def test_a_card_is_made_and_given_to_the_clinic_s_phones(client_for, clinician, lead):
    client = client_for(clinician)

    answer = client.post(reverse("capture:card-new", args=["knee"]), GIVEN, follow=True)

    assert "Kept: Ours, charged." in answer.content.decode()
    card = ComponentCard.objects.get()
    assert (card.clinic, card.changed_by) == (clinician.organisation, clinician)
    assert told_to_phone(client_for(lead)) == [
        {
            "id": str(card.id),
            "kind": "knee",
            "label": "Ours, charged",
            "allows_shell": "no",
            "fills": {"knee.control": "microprocessor", "knee.label": "From our card: Ours, charged"},
            "expects": {},
        }
    ]


def test_another_clinic_s_cards_are_neither_shown_nor_told(client_for, clinician, other_clinician):
    factories.card(clinician, "Ours, charged")

    for client, seen in ((client_for(clinician), True), (client_for(other_clinician), False)):
        assert ("Ours, charged" in client.get(reverse("capture:cards")).content.decode()) is seen
        assert bool(told_to_phone(client)) is seen


def test_a_maker_that_allows_no_shell_is_said_in_the_list(client_for, clinician):
    factories.card(clinician, allows_shell="no")

    assert (
        "Its maker allows no shell." in client_for(clinician).get(reverse("capture:cards")).content.decode()
    )


def test_a_card_is_changed(client_for, clinician):
    card = factories.card(clinician, "Ours")

    client_for(clinician).post(reverse("capture:card-edit", args=[card.id]), GIVEN)

    card.refresh_from_db()
    assert (card.label, card.holds) == ("Ours, charged", {"knee.control": "microprocessor"})


def test_what_is_wrong_stands_at_its_field_and_nothing_typed_is_lost(client_for, clinician):
    given = {**GIVEN, "knee.hardware_length": "10 or so"}

    answer = client_for(clinician).post(reverse("capture:card-new", args=["knee"]), given)

    page = answer.content.decode()
    assert answer.status_code == 422
    assert 'aria-describedby="id_knee.hardware_length-says"' in page
    assert 'value="10 or so"' in page
    assert 'value="Ours, charged"' in page
    assert not ComponentCard.objects.exists()


def test_a_name_that_another_took_meanwhile_is_told(client_for, clinician, monkeypatch):
    factories.card(clinician, GIVEN["label"])
    monkeypatch.setattr("capture.card_form.CardForm.clean_label", lambda form: form.cleaned_data["label"])

    answer = client_for(clinician).post(reverse("capture:card-new", args=["knee"]), GIVEN)

    assert answer.status_code == 422
    assert "Another card is called so." in answer.content.decode()


def test_a_retired_card_is_offered_no_more_and_its_name_is_free(client_for, clinician):
    card, client = factories.card(clinician, "Ours"), client_for(clinician)

    client.post(reverse("capture:card-retire", args=[card.id]))

    assert told_to_phone(client) == []
    card.refresh_from_db()
    assert card.retired_at <= timezone.now()
    assert client.get(reverse("capture:card-edit", args=[card.id])).status_code == 404
    assert services.keep_card(clinician, None, "knee", "Ours", "yes", {}) is not None


def test_there_is_no_third_kind(client_for, clinician):
    assert client_for(clinician).get("/cards/new/hip/").status_code == 404


def test_a_card_is_not_retired_by_looking(client_for, clinician):
    card = factories.card(clinician)

    assert client_for(clinician).get(reverse("capture:card-retire", args=[card.id])).status_code == 405
