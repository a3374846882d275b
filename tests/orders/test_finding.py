import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from orders import finding
from orders.finding import orders_found, parts_of, spelled
from orders.models import ReferencePart
from tests import factories


@pytest.mark.parametrize(
    ("reference", "parts"),
    [
        ("NF-0147", ["nf0147", "0147", "147"]),
        ("147", ["147"]),
        ("SM/2026/0032 b", ["sm20260032b", "20260032b", "0032b", "32b", "b"]),
        ("Straße 7", ["strasse7", "7"]),
        ("ＮＦ１", ["nf1", "1"]),  # full-width letters, as some keyboards write them
        ("٠٤٢", ["٠٤٢"]),
        ("000", ["000"]),
        ("--", ["--"]),
        ("a1" * 20, [("a1" * 20)[begin:] for begin in range(8)]),
    ],
)
def test_reference_is_found_by_each_of_its_runs_but_not_by_too_many(reference, parts):
    assert parts_of(reference) == parts


def test_case_and_marks_make_no_difference():
    assert {spelled(text) for text in ("NF-0147", "nf 0147", "Nf.01/47", "nf0147")} == {"nf0147"}


@pytest.fixture
def made(clinician, fabricator):
    """Makes an order under a reference."""
    return lambda reference: factories.order(
        clinician, fabricator.organisation, factories.entry(reference=reference)
    )


@pytest.mark.parametrize("find", ["nf", "NF-01", "nf 0147", "0147", "147", "14"])
def test_order_is_found_by_the_beginning_of_its_reference_or_of_a_number_in_it(made, fabricator, find):
    order, _other = made("NF-0147"), made("SM-0032")

    assert orders_found(fabricator, find) == [order.id]


@pytest.mark.parametrize("find", ["", " ", "f-0147", "47", "nf-01478", "%", "_", "_f", "NF-0147' OR 1=1"])
def test_nothing_else_finds_it(made, fabricator, find):
    made("NF-0147")

    assert orders_found(fabricator, find) == []


def test_order_that_two_parts_find_is_found_once(made, fabricator):
    order = made("1-1-1")

    assert orders_found(fabricator, "1") == [order.id]


def test_letters_beyond_ascii_are_found(made, fabricator):
    order = made("Ärlig-Ø7")

    assert orders_found(fabricator, "äRLIG ø") == [order.id]
    assert orders_found(fabricator, "ärligz") == []


def test_only_ones_own_are_found(made, clinician, fabricator, other_clinician, other_fabricator):
    order = made("NF-0147")

    found = [
        orders_found(member, "nf") for member in (clinician, fabricator, other_clinician, other_fabricator)
    ]

    assert found == [[order.id], [order.id], [], []]


def test_no_more_are_looked_for_than_are_told(made, fabricator, monkeypatch):
    monkeypatch.setattr(finding, "FOUND_MOST", 2)
    for number in range(3):
        made(f"NF-{number}")

    assert len(orders_found(fabricator, "nf")) == 2


def test_a_search_is_one_range_of_an_index(made, clinician, fabricator):
    made("NF-0147")

    for member in (clinician, fabricator):
        with CaptureQueriesContext(connection) as queries:
            orders_found(member, "nf-01")
        (query,) = queries.captured_queries
        with connection.cursor() as cursor:
            cursor.execute("EXPLAIN QUERY PLAN " + query["sql"])
            (step,) = cursor.fetchall()

        side = "workshop" if member.in_workshop else "clinic"
        assert step[3] == (
            f"SEARCH orders_referencepart USING INDEX part_of_{side}s ({side}_id=? AND part>? AND part<?)"
        )


def test_parts_go_with_their_order(made, fabricator):
    order = made("NF-0147")
    assert ReferencePart.objects.filter(order=order).count() == 3

    order.queries.all().delete(), order.revisions.all().delete(), order.delete()

    assert not ReferencePart.objects.exists()
