"""The receipt, by which alone a phone counts something as received."""

import json

import pytest

from capture import sync
from tests import factories

pytestmark = pytest.mark.django_db
FIRST, SECOND, THIRD = "3" * 64, "1" * 64, "2" * 64


def test_a_receipt_names_each_photo_once_in_the_seal_s_order(clinician, fabricator):
    """Two shells may share one photo; the phone looks its own list up in the receipt's."""
    factories.photo(clinician, FIRST)
    factories.photo(clinician, THIRD, reason="damaged")
    named = [factories.named_photo(sha256) for sha256 in (FIRST, SECOND, FIRST, THIRD)]
    raw = factories.seal(fabricator.organisation, photos=named)

    receipt = sync.take_seal(clinician, sync.read_seal(raw).id, factories.hash_of(raw), raw)

    assert [(photo["sha256"], photo["state"]) for photo in receipt["photos"]] == [
        (FIRST, "kept"),
        (SECOND, "missing"),
        (THIRD, "set_aside"),
    ]


def test_bytes_are_kept_as_they_came_however_they_are_written(clinician, fabricator):
    """The receipt's length and hash are of the phone's very bytes: spaces and letters escaped otherwise are others."""
    content = json.loads(factories.seal(fabricator.organisation, deliver_to="Flügel B"))
    raw = json.dumps(content, indent=2, ensure_ascii=False).encode()

    receipt = sync.take_seal(clinician, sync.read_seal(raw).id, factories.hash_of(raw), raw)

    assert (receipt["sha256"], receipt["bytes"]) == (factories.hash_of(raw), len(raw))
    assert len(raw) > len(raw.decode())
    assert bytes(sync.Seal.objects.get().raw) == raw
