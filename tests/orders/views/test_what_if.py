from types import SimpleNamespace

import pytest
from django.urls import reverse

from orders.models import Event, Look, Order, Revision
from tests import factories

pytestmark = pytest.mark.django_db
NOT_STORED = "Not stored. The order stays as it was sent."


def address_of(order):
    return reverse("orders:what-if", args=[order.id])


@pytest.fixture
def order(clinician, fabricator):
    return factories.order(clinician, fabricator.organisation)


@pytest.fixture
def tried(client_for, fabricator, order):
    """What the page answers to what is typed; `alone` as the form's own call, which wants just what follows."""

    def answer(*, alone=False, htmx=True, to=order, **typed):
        headers = {"HX-Request": "true"} if htmx else {}
        headers |= {"HX-Target": f"follows-{typed.get('side', 'left')}"} if alone else {}
        said = {"revision": "1", "side": "left", **typed}
        return client_for(fabricator).get(address_of(to), said, headers=headers)

    return answer


def changed(answer) -> dict[str, tuple[str, str]]:
    return {row.key: (row.was, row.value) for row in answer.context["tried"]["changed"]}


def error_at(answer, name: str) -> str:
    return next(one.error for one in answer.context["tried"]["fields"] if one.field.name == name)


def test_only_reading_is_answered(client_for, fabricator, order):
    assert client_for(fabricator).post(address_of(order), {"gap": "20"}).status_code == 405


def test_other_workshop_and_clinics_find_nothing(
    client_for, fabricator, order, other_fabricator, clinician, lead, other_clinician
):
    said = {"revision": "1", "side": "left", "gap": "20"}
    assert client_for(fabricator).get(address_of(order), said).status_code == 200

    for member in (other_fabricator, clinician, lead, other_clinician):
        assert client_for(member).get(address_of(order), said).status_code == 404
    assert client_for(None).get(address_of(order), said).status_code == 302


@pytest.mark.parametrize("wrong", [{"side": "right"}, {"side": ""}, {"revision": "2"}, {"revision": "x"}])
def test_shell_or_revision_that_is_not_there_is_404(tried, wrong):
    assert tried(**wrong).status_code == 404


def test_figures_follow_the_gap_with_what_they_were_struck(tried):
    answer = tried(gap="20")

    # 393.7 taken, less 20 instead of 12.7: 373 instead of 381; two straps at 60: 253 instead of 261 between them.
    assert changed(answer)["finished_length_mm"] == ("381", "373")
    assert changed(answer)["strap_spacing_mm"] == ("261", "253")
    assert '<span class="was">was <s>381</s></span> <b>373</b> mm' in answer.content.decode()
    assert NOT_STORED in answer.content.decode()


def test_nothing_is_stored(tried, order):
    was = Order.objects.filter(id=order.id).values().get()
    events, looks = Event.objects.count(), Look.objects.count()

    answer = tried(alone=True, gap="20", girth="400", upper_strap="70", lower_strap="70", wall="thick")

    assert len(changed(answer)) >= 7
    assert Order.objects.filter(id=order.id).values().get() == was
    assert Revision.objects.filter(order=order).count() == 1
    assert (Event.objects.count(), Look.objects.count()) == (events, looks)


def test_what_is_left_as_it_stands_changes_nothing(tried):
    begun = {one.field.name: one.field.value() for one in tried().context["tried"]["fields"]}

    assert begun == {
        "gap": "12.7",
        "girth": "374.65",
        "upper_strap": "60",
        "lower_strap": "60",
        "wall": "thin",
    }
    assert changed(tried(**begun)) == {}
    assert changed(tried(gap="", girth="  ", wall="")) == {}


def test_a_length_is_read_in_any_unit_of_the_tape(tried):
    assert changed(tried(gap="3/4 in"))["gap_mm"] == ("12.7", "19.05")
    assert changed(tried(girth="38 cm"))["girth_mm"] == ("375", "380")


@pytest.mark.parametrize(
    ("field", "text", "says"),
    [
        ("gap", "two", "Read “two”"),
        ("gap", "-3", "Expected"),
        ("gap", "1" * 80, "Expected"),
        ("girth", "38", "Is it 38 cm"),
        ("girth", "\x00", "Null characters are not allowed."),
        ("upper_strap", "1e3", "Read “1e3”"),
        ("upper_strap", "5", "This place is less than half of the strap"),
        ("lower_strap", "401", "This place lies outside 5 to 400."),
        ("lower_strap", "390", "This place leaves no room for the straps"),
        ("wall", "velvet", "has no such wall"),
    ],
)
def test_what_cannot_be_is_said_at_its_field_and_the_rest_is_still_tried(tried, field, text, says):
    typed = {field: text} | ({"gap": "20"} if field != "gap" else {"girth": "400"})
    answer = tried(alone=True, **typed)

    assert says in error_at(answer, field)
    assert set(changed(answer)) & {"gap_mm", "girth_mm"}
    assert f'id="what-if-left-{field}-says"' in answer.content.decode()
    assert "Tried as it was sent." in answer.content.decode()


def test_walls_are_told_with_the_languages_own_decimal_mark(tried, fabricator):
    # the tests' catalogue has a wall of 7.5 mm
    assert "Thick, 7.5 mm" in tried().content.decode()

    type(fabricator).objects.filter(id=fabricator.id).update(language="de")

    assert "Thick, 7,5 mm" in tried().content.decode()


def test_what_is_typed_is_shown_as_text(tried):
    page = tried(gap="<b>2</b>").content.decode()

    assert "<b>2</b>" not in page
    assert "&lt;b&gt;2&lt;/b&gt;" in page


def test_a_strap_that_the_mechanism_keeps_is_told(clinician, fabricator, tried):
    knee = {"hardware_length": "100 mm"}
    order = factories.order(clinician, fabricator.organisation, factories.entry(knee=knee))

    answer = tried(to=order, upper_strap="80")

    notes = {one.field.name: one.note for one in answer.context["tried"]["fields"]}
    assert notes["upper_strap"] == "The mechanism keeps it at 122.5 mm."
    assert changed(answer) == {}


def test_flags_follow_new_ones_marked(tried):
    answer = tried(gap="6")  # a solid ankle's rim rises by 6.764: worked case 1
    flags = {one.flag.level: one for one in answer.context["tried"]["flags"] if one.new}

    assert "strikes the shell" in flags["stop"].flag.says
    page = answer.content.decode()
    assert '<span class="tag">new</span>' in page
    assert "It would want a reason." in page  # less than advised


def test_flags_of_photos_and_earlier_orders_stay_as_they_were(tried, order):
    had = {flag["id"] for flag in order.current.results[0]["flags"]}
    assert "photo.missing" in had

    assert not [one for one in tried(girth="380").context["tried"]["flags"] if one.new]
    assert tried(girth="380").context["tried"]["gone"] == []


def test_the_form_s_own_call_gets_only_what_follows(tried):
    page = tried(alone=True, gap="20").content.decode()

    assert page.startswith('<div id="follows-left">')
    assert "<form" not in page
    assert '<div id="drawing-left" hx-swap-oob="true"><svg' in page
    assert 'style="' not in page


def test_without_script_it_is_the_order_s_page(tried, order, fabricator):
    answer = tried(htmx=False, gap="20")
    page = answer.content.decode()

    assert NOT_STORED in page
    assert "hx-swap-oob" not in page
    assert "<s>381</s>" in page
    assert "Ask about this entry" not in page
    assert Look.objects.filter(order_id=order.id, member_id=fabricator.id).count() == 1


def test_one_of_two_shells_is_tried(clinician, fabricator, tried):
    both = [factories.entry(), factories.entry(side="right", gap="20 mm")]
    order = factories.order(clinician, fabricator.organisation, *both)

    answer = tried(to=order, htmx=False, side="right", gap="19")

    assert changed(answer)["gap_mm"] == ("20", "19")
    assert 'id="figures-left"' in answer.content.decode()
    assert answer.content.decode().count(NOT_STORED) == 1


def test_an_order_that_was_reckoned_by_another_book_says_so(tried, monkeypatch):
    says = "The rule book has changed since it was sent"
    assert says not in tried().content.decode()

    monkeypatch.setattr("orders.views.what_if.load_book", lambda: SimpleNamespace(sha256="another"))
    assert says in tried().content.decode()
