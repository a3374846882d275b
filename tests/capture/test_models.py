"""What the database itself refuses, whoever writes."""

import pytest
from django.db import IntegrityError, transaction
from django.utils import timezone

from capture.models import Photo
from tests import factories

pytestmark = pytest.mark.django_db
KEPT, SET_ASIDE = {"state": "kept", "width": 4, "height": 3}, {"state": "set_aside", "reason": "empty"}


def photo(by, **fields) -> Photo:
    return Photo.objects.create(clinic=by.organisation, sha256="1" * 64, bytes=5, **fields)


@pytest.mark.parametrize("fields", [KEPT, SET_ASIDE])
def test_a_photo_is_kept_with_its_size_or_set_aside_with_its_reason(clinician, fields):
    assert photo(clinician, **fields).state == fields["state"]


@pytest.mark.parametrize(
    "fields",
    [
        KEPT | {"width": None},
        KEPT | {"height": 0},
        KEPT | {"reason": "damaged"},
        SET_ASIDE | {"reason": ""},
        SET_ASIDE | {"width": 4, "height": 3},
        KEPT | {"state": "lost"},
    ],
)
def test_a_photo_that_is_neither_is_refused(clinician, fields):
    with pytest.raises(IntegrityError), transaction.atomic():
        photo(clinician, **fields)


@pytest.mark.parametrize("reason", Photo.Reason.values)
def test_a_photo_that_was_set_aside_says_why_and_one_that_is_kept_says_nothing(reason):
    says = Photo(state="set_aside", reason=reason).says

    assert says.startswith("This photo can't be shown: ")
    assert Photo(state="kept", reason="").says == ""


def test_a_card_s_name_is_free_again_once_it_is_retired(clinician):
    card = factories.card(clinician, "Ours")
    with pytest.raises(IntegrityError), transaction.atomic():
        factories.card(clinician, "Ours")

    card.retired_at = timezone.now()
    card.save()

    for retired in (None, timezone.now()):
        assert factories.card(clinician, "Ours", retired_at=retired).label == "Ours"
