import pytest
from django.db import IntegrityError, transaction

from capture.models import Seal
from orders.models import PhotoUse
from tests import factories

pytestmark = pytest.mark.django_db
A, B = "a" * 64, "b" * 64


@pytest.fixture
def seal(clinician, fabricator):
    """A seal that waits for two photos."""
    photos = [factories.named_photo(B, "side"), factories.named_photo(A, "front")]
    raw = factories.seal(fabricator.organisation, photos=photos)
    return Seal.objects.create(
        order_id=clinician.id, sha256=factories.hash_of(raw), raw=raw, clinic=clinician.organisation
    )


def use(seal, place, sha256=A):
    return PhotoUse.objects.create(seal=seal, place=place, sha256=sha256, view="side", entry=0)


def test_uses_stand_in_the_seals_order_whenever_they_were_written(seal):
    use(seal, 1, A)
    use(seal, 0, B)

    assert [row.sha256 for row in seal.photo_uses.all()] == [B, A]


def test_a_place_of_a_seals_list_is_written_once(seal):
    use(seal, 0, A)

    with pytest.raises(IntegrityError), transaction.atomic():
        use(seal, 0, B)
    assert [row.sha256 for row in seal.photo_uses.all()] == [A]


def test_uses_go_with_their_seal(seal):
    use(seal, 0)

    seal.delete()

    assert not PhotoUse.objects.exists()


def test_a_use_is_looked_up_by_its_hash_along_an_index(seal):
    assert (
        "photo_use_by_hash (sha256=?)"
        in PhotoUse.objects.filter(sha256=A).order_by().values("seal_id").explain()
    )
