"""A clinic sees its own photos, a workshop those of the orders sent to it, nobody anything else."""

import pytest
from django.http import Http404

from capture import photo_access
from capture.access import photo_to_read
from capture.models import Photo
from capture.photos.uploads import keep_whole
from tests.capture.photos.pictures import a_jpeg


@pytest.fixture
def shown(monkeypatch):
    """Says which workshop may see which clinic's photo: a set of (workshop, hash, clinic)."""
    shown = set()

    def clinics_that_sent(member, sha256):
        return [
            clinic for workshop, hash, clinic in shown if (workshop, hash) == (member.organisation_id, sha256)
        ]

    app = photo_access.Registered(clinics_that_sent=clinics_that_sent, arrived=lambda photo: None)
    monkeypatch.setattr(photo_access, "_registered", [app])
    return shown


def test_a_clinic_reads_its_own(clinician, lead):
    photo = keep_whole(clinician, a_jpeg())

    assert photo_to_read(clinician, photo.sha256) == photo
    assert photo_to_read(lead, photo.sha256) == photo


def test_another_clinic_finds_nothing(clinician, other_clinician, shown):
    photo = keep_whole(clinician, a_jpeg())
    shown.add((other_clinician.organisation_id, photo.sha256, clinician.organisation_id))

    with pytest.raises(Http404):
        photo_to_read(other_clinician, photo.sha256)


def test_a_workshop_reads_what_was_sent_to_it(clinician, fabricator, other_fabricator, shown):
    photo, other = keep_whole(clinician, a_jpeg(1)), keep_whole(clinician, a_jpeg(2))
    shown.add((fabricator.organisation_id, photo.sha256, clinician.organisation_id))

    assert photo_to_read(fabricator, photo.sha256) == photo
    for member, unseen in ((fabricator, other), (other_fabricator, photo)):
        with pytest.raises(Http404):
            photo_to_read(member, unseen.sha256)


def test_a_workshop_that_knows_a_hash_gets_no_other_clinics_row(
    clinician, other_clinician, fabricator, shown
):
    mine, theirs = keep_whole(clinician, a_jpeg()), keep_whole(other_clinician, a_jpeg())
    assert mine.sha256 == theirs.sha256
    shown.add((fabricator.organisation_id, theirs.sha256, other_clinician.organisation_id))

    assert photo_to_read(fabricator, mine.sha256) == theirs


def test_a_workshop_finds_nothing_while_no_app_has_registered(clinician, fabricator, monkeypatch):
    monkeypatch.setattr(photo_access, "_registered", [])
    photo = keep_whole(clinician, a_jpeg())
    assert Photo.objects.count() == 1

    with pytest.raises(Http404):
        photo_to_read(fabricator, photo.sha256)
