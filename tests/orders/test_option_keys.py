"""A workshop names its options as it speaks: keys with spaces, umlauts and marks go all the way to the paper."""

import pytest
from django.urls import reverse

from orders import catalogue_editor as editor
from orders import moves
from orders.changes import shells_of
from orders.documents.work_order import work_order
from orders.models import Order
from orders.proposal import read_proposed
from orders.reckoning.catalogue import OPTION_LISTS
from tests import factories
from tests.orders.documents.pages import texts

pytestmark = pytest.mark.django_db
KEYS = {
    "wall": "dünn & fein 2,5 mm",
    "rear": "kurz (hinten) <b>",
    "top": 'oben "glatt" o\'ben',
    "colour": "grün/blau %20",
    "finish": "матовый 1",
}


@pytest.fixture
def named(client_for, fabricator):
    """The workshop, once it has named the first of each of its options so, on its form."""
    flat = editor.flat_of(editor.newest_of(fabricator.organisation).content)
    typed = {f"{OPTION_LISTS[kind]}.0.key": key for kind, key in KEYS.items()}
    answer = client_for(fabricator).post("/catalogue/", {**flat, **typed, "based_on": "1"})
    assert answer.status_code == 302
    return fabricator


@pytest.fixture
def order(clinician, named) -> Order:
    return factories.order(clinician, named.organisation, factories.entry(shell=KEYS), catalogue_version=2)


def test_an_order_holds_the_keys_as_they_were_typed(order):
    (shell,) = shells_of(order.current)

    assert {kind: shell.entry["shell"][kind] for kind in KEYS} == KEYS
    assert not any(flag["id"] == "catalogue.not_made" for flag in shell.result["flags"])


def test_the_workshop_reads_names_and_not_keys(client_for, named, order):
    page = client_for(named).get(reverse("orders:order", args=[order.id])).content.decode()

    assert "thin, short, plain" in page
    assert not any(key in page for key in KEYS.values())


def test_such_a_wall_is_tried_and_proposed(client_for, named, order):
    (shell,) = shells_of(order.current)

    tried = client_for(named).get(
        reverse("orders:what-if", args=[order.id]),
        {"revision": "1", "side": "left", "wall": KEYS["wall"], "gap": "20"},
    )

    assert all(not one.error for one in tried.context["tried"]["fields"])
    assert 'value="dünn &amp; fein 2,5 mm" selected' in tried.content.decode()
    thick = {**shell.entry, "shell": {**shell.entry["shell"], "wall": "thick"}}
    other = type(shell)(thick, shell.result, shell.catalogue)
    assert read_proposed(KEYS["wall"], "shell.wall", other) == KEYS["wall"]
    assert read_proposed("thin", "shell.wall", other) == KEYS["wall"]


def test_the_work_order_is_made(named, order):
    moves.confirm(order, order.current.seal.sha256, named)

    said = " ".join(texts(work_order(order, order.current, "a4")))

    assert "Thin, 4 mm" in said
    assert "dünn" not in said
