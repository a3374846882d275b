import uuid

import pytest
from django.http import Http404

from capture import services
from capture.models import Person, Visit


def test_one_person_has_one_row_however_many_visits(clinician):
    for _visit in range(2):
        services.plan_visit(clinician, uuid.uuid4(), "T-7", "Q. R.")

    assert (Person.objects.count(), Visit.objects.count()) == (1, 2)


def test_initials_given_later_fill_empty_ones_but_replace_none(clinician):
    services.person_with(clinician, "T-7", "")
    assert services.person_with(clinician, "T-7", "Q. R.").initials == "Q. R."
    assert services.person_with(clinician, "T-7", "X. Y.").initials == "Q. R."


def test_two_clinics_may_use_one_reference_for_two_people(clinician, other_clinician):
    mine, theirs = (
        services.person_with(clinician, "T-7", "A."),
        services.person_with(other_clinician, "T-7", "B."),
    )

    assert mine.id != theirs.id


def test_another_clinics_visit_is_refused_and_leaves_no_person(clinician, other_clinician):
    visit_id = uuid.uuid4()
    services.plan_visit(clinician, visit_id, "T-7", "Q. R.")

    with pytest.raises(Http404):
        services.plan_visit(other_clinician, visit_id, "T-7", "Q. R.")

    assert not Person.objects.filter(clinic=other_clinician.organisation).exists()
