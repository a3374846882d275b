import pytest

from orders.documents.kinds import KINDS, NAMED, documents_of
from tests import factories

pytestmark = pytest.mark.django_db


def test_no_two_documents_share_a_name():
    names = [kind.name(side) for kind in KINDS for side in (("left", "right") if kind.per_shell else ("",))]

    assert sorted(names) == sorted(NAMED)


def test_each_shell_has_its_own(clinician, fabricator):
    both = factories.entry(side="left"), factories.entry(side="right")
    one = factories.order(clinician, fabricator.organisation).current
    two = factories.order(clinician, fabricator.organisation, *both).current
    per_shell = sum(kind.per_shell for kind in KINDS)

    assert len(documents_of(two)) == len(documents_of(one)) + per_shell
    assert {side for _kind, side in documents_of(one)} - {""} == {"left"}


def test_document_is_made_of_the_shell_that_is_named(clinician, fabricator):
    both = factories.entry(side="left"), factories.entry(side="right", girth=["15", "15"])
    order = factories.order(clinician, fabricator.organisation, *both)
    kind, _side = NAMED["right-stations.csv"]

    # 15 in is 381 mm
    assert ",381.00," in kind.make(order, order.current, "right").decode()
    assert ",374.65," in kind.make(order, order.current, "left").decode()
