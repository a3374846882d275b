import html
import json
import re

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from orders import catalogue_editor as editor
from orders.models import Catalogue
from tests import factories

pytestmark = pytest.mark.django_db
URL = "/catalogue/"


@pytest.fixture
def flat(fabricator):
    """What the page's form posts, unchanged."""
    return {**editor.flat_of(editor.newest_of(fabricator.organisation).content), "based_on": "1"}


def versions(member):
    return member.organisation.catalogues.count()


@pytest.mark.parametrize("address", [URL, "/catalogue/1.json"])
def test_clinics_and_strangers_find_nothing(client_for, fabricator, clinician, lead, address):
    for member in (clinician, lead):
        assert client_for(member).get(address).status_code == 404
    assert client_for(None).get(address).status_code == 302


def test_every_figure_stands_on_the_form(client_for, fabricator, flat):
    page = client_for(fabricator).get(URL).content.decode()

    for path in flat:
        if not path.endswith(".rest"):
            assert f'name="{path}"' in page


def test_saving_makes_the_next_version(client_for, fabricator, flat):
    answer = client_for(fabricator).post(URL, {**flat, "lead_time_days": "6"}, follow=True)

    newest = editor.newest_of(fabricator.organisation)
    assert (newest.version, newest.content["lead_time_days"], newest.saved_by) == (2, 6, fabricator)
    assert "Version 2 is saved" in answer.content.decode()


def test_what_is_wrong_stands_at_its_field_and_nothing_is_lost(client_for, fabricator, flat):
    answer = client_for(fabricator).post(URL, {**flat, "walls.0.label": "Airy", "walls.0.wall_mm": "-4"})

    page = answer.content.decode()
    assert answer.status_code == 422
    assert 'id="walls-0-wall_mm-says">Lies outside 0.5 to 25.' in page
    assert 'value="Airy"' in page
    assert re.findall(r'name="([^"]*)" value="[^"]*"[^>]* autofocus', page) == ["walls.0.wall_mm"]
    assert 'value="-4"' in page
    assert versions(fabricator) == 1


def test_the_second_of_two_editors_is_told_what_differs(client_for, fabricator, flat):
    client = client_for(fabricator)
    client.post(URL, {**flat, "lead_time_days": "6"})

    answer = client.post(URL, {**flat, "trim_mm": "5"})

    page = answer.content.decode()
    assert answer.status_code == 409
    assert "Nothing was saved: T. M. saved version 2 meanwhile, " in page
    assert "Trim and time: Lead time, weekends counted; Trim and time: Left to trim at the fitting." in page
    assert 'name="based_on" value="2"' in page
    assert versions(fabricator) == 2


@pytest.mark.parametrize(
    ("is_there", "told"),
    [(True, "T. M. saved version 2 meanwhile"), (False, "version 2 was saved meanwhile")],
)
def test_initials_end_no_sentence_of_what_was_saved_meanwhile(client_for, fabricator, flat, is_there, told):
    """Theirs end in a full stop of their own; of somebody who has left there are none."""
    client = client_for(fabricator)
    client.post(URL, {**flat, "lead_time_days": "6"})
    if not is_there:
        Catalogue.objects.update(saved_by=None)

    page = client.post(URL, {**flat, "trim_mm": "5"}).content.decode()

    notice = re.search(r"Nothing was saved: .*?</p>", page)[0]
    assert told in notice
    assert re.search(r"\d\d:\d\d\.</p>$", notice)


def test_rows_are_added_and_taken_out_without_saving(client_for, fabricator, flat):
    client = client_for(fabricator)

    more = client.post(URL, {**flat, "do": "add:colours"}).content.decode()
    fewer = client.post(URL, {**flat, "do": "drop:colours.0"}).content.decode()

    assert 'name="colours.3.key" value=""' in more
    assert 'name="colours.2.key"' not in fewer
    assert 'name="colours.0.key" value="chalk"' in fewer
    assert client.post(URL, {**flat, "do": "add:nonsense"}).status_code == 404
    assert versions(fabricator) == 1


def test_a_new_check_stops_nobody_and_points_nowhere_until_it_is_told_to(client_for, fabricator, flat):
    page = client_for(fabricator).post(URL, {**flat, "do": "add:checks"}).content.decode()

    chosen = re.findall(r'<select[^>]* name="checks\.0\.(\w+)".*?<option selected>(\w+)', page, re.DOTALL)
    assert chosen == [("level", "note"), ("at", "none")]


CHECK = {
    "checks.0.id": "own.stout",
    "checks.0.level": "note",
    "checks.0.at": "girth",
    "checks.0.fields": "girth",
    "checks.0.when": "more(girth_mm, 370.0)",
    "checks.0.says": "A girth of {girth_mm} is stout.",
    "checks.0.do": "Ring us.",
    "checks.0.source": "our moulds",
    "checks.0.needs": "",
    "checks.0.rest": "",
}


@pytest.mark.parametrize(
    ("when", "says"),
    [
        ("more(girth_mm, 370.0)", "It says: A girth of 380 mm is stout. Ring us."),
        ("more(girth_mm, 390.0)", "It has nothing to say here."),
        ("more(collar_above_rim_mm, 1.0)", "It keeps quiet"),
    ],
)
def test_a_check_is_tried_on_a_plain_shell(client_for, fabricator, flat, when, says):
    posted = {**flat, **CHECK, "checks.0.when": when, "do": "try:0", "sample": "plain"}

    answer = client_for(fabricator).post(URL, posted)

    assert answer.status_code == 200
    assert says in answer.content.decode().replace("\u00a0", " ")
    assert versions(fabricator) == 1


def test_a_check_is_tried_on_an_order_of_the_workshops_own_alone(
    client_for, fabricator, other_fabricator, clinician, flat
):
    mine = factories.order(clinician, fabricator.organisation)
    theirs = factories.order(clinician, other_fabricator.organisation, factories.entry(reference="T-0009"))
    posted = {**flat, **CHECK, "do": "try:0"}
    client = client_for(fabricator)

    on_mine, on_theirs = (
        client.post(URL, {**posted, "sample": f"{order.id}:left"}).content.decode().replace("\u00a0", " ")
        for order in (mine, theirs)
    )

    assert "A girth of 374.7 mm is stout" in on_mine  # 14 3/4 in is 374.65 mm
    assert "T-0009" not in on_theirs
    assert "A girth of 380 mm is stout" in on_theirs  # the plain shell instead


def test_a_check_that_does_not_parse_says_where(client_for, fabricator, flat):
    posted = {**flat, **CHECK, "checks.0.when": "more(girth_mm, 370.0", "do": "try:0"}

    answer = client_for(fabricator).post(URL, posted)

    assert answer.status_code == 422
    assert 'id="checks-0-when-says"' in answer.content.decode()
    assert "at character 21" in answer.content.decode()


def test_a_file_goes_out_and_comes_in_again(client_for, fabricator, other_fabricator):
    raw = client_for(fabricator).get("/catalogue/1.json").content
    assert json.loads(raw) == editor.newest_of(fabricator.organisation).content
    changed = {**json.loads(raw), "lead_time_days": 21}
    file = SimpleUploadedFile("catalogue.json", json.dumps(changed).encode())

    page = client_for(other_fabricator).post("/catalogue/file", {"file": file}).content.decode()

    assert 'name="lead_time_days" value="21"' in page
    assert "nothing is saved yet" in page
    assert Catalogue.objects.filter(workshop=other_fabricator.organisation).count() == 1


@pytest.mark.parametrize("raw", [b"", b"not JSON", b"{}", None])
def test_a_file_that_is_no_catalogue_is_refused_at_its_field(client_for, fabricator, raw):
    posted = {} if raw is None else {"file": SimpleUploadedFile("catalogue.json", raw)}

    answer = client_for(fabricator).post("/catalogue/file", posted)

    assert answer.status_code == 422
    assert 'id="file-says"' in answer.content.decode()


def as_file(content):
    return SimpleUploadedFile("catalogue.json", json.dumps(content).encode())


def test_what_is_typed_stays_when_a_file_would_take_its_place(client_for, fabricator, flat):
    content = editor.newest_of(fabricator.organisation).content
    typed = {**flat, "lead_time_days": "6", "walls.1.label": "Airy"}

    answer = client_for(fabricator).post(
        "/catalogue/file", {**typed, "file": as_file({**content, "trim_mm": 7})}
    )

    page = answer.content.decode()
    assert answer.status_code == 409
    assert 'name="lead_time_days" value="6"' in page
    assert 'value="Airy"' in page
    assert "Trim and time: Lead time, weekends counted; Walls 2." in page
    assert 'name="based_on" value="1"' in page


def test_the_file_takes_the_place_of_what_is_typed_when_told_so(client_for, fabricator, flat):
    content = editor.newest_of(fabricator.organisation).content
    client, typed = client_for(fabricator), {**flat, "lead_time_days": "6"}
    asked = client.post(
        "/catalogue/file", {**typed, "file": as_file({**content, "trim_mm": 7})}
    ).content.decode()
    held = html.unescape(re.search(r'name="held" value="([^"]*)"', asked)[1])

    page = client.post("/catalogue/file", {**typed, "held": held, "do": "replace"}).content.decode()

    assert 'name="trim_mm" value="7"' in page
    assert f'name="lead_time_days" value="{content["lead_time_days"]}"' in page
    assert 'name="held"' not in page
    assert versions(fabricator) == 1


@pytest.mark.parametrize("raw", [b"not JSON", None])
def test_what_is_typed_stays_when_a_file_is_refused(client_for, fabricator, flat, raw):
    file = {} if raw is None else {"file": SimpleUploadedFile("catalogue.json", raw)}

    answer = client_for(fabricator).post("/catalogue/file", {**flat, "lead_time_days": "6", **file})

    assert answer.status_code == 422
    assert 'name="lead_time_days" value="6"' in answer.content.decode()


def test_a_form_that_says_what_was_saved_gives_way_to_a_file_at_once(client_for, fabricator, flat):
    content = editor.newest_of(fabricator.organisation).content
    posted = {**flat, "colours.9.key": "", "colours.9.label": "", "x.y": "", "walls.x.key": "no row"}

    answer = client_for(fabricator).post(
        "/catalogue/file", {**posted, "file": as_file({**content, "trim_mm": 7})}
    )

    assert answer.status_code == 200
    assert 'name="trim_mm" value="7"' in answer.content.decode()


@pytest.mark.parametrize("held", ["", "not JSON", "{}"])
def test_a_carried_file_that_is_no_catalogue_is_refused(client_for, fabricator, flat, held):
    answer = client_for(fabricator).post("/catalogue/file", {**flat, "held": held, "do": "replace"})

    assert answer.status_code == 422


def test_a_form_that_is_shown_again_says_whether_it_holds_what_is_not_saved(client_for, fabricator, flat):
    content, client = editor.newest_of(fabricator.organisation).content, client_for(fabricator)

    def unsaved(page):
        return " data-unsaved" in page.content.decode()

    assert not unsaved(client.get(URL))
    assert not unsaved(client.post(URL, {**flat, "do": "add:colours"}))
    assert unsaved(client.post(URL, {**flat, "trim_mm": "5", "do": "add:colours"}))
    assert unsaved(client.post(URL, {**flat, "do": "drop:colours.0"}))
    assert unsaved(client.post(URL, {**flat, "trim_mm": "none"}))
    assert unsaved(client.post("/catalogue/file", {"file": as_file({**content, "trim_mm": 7})}))


def test_every_button_sends_what_is_typed(client_for, fabricator):
    page = client_for(fabricator).get(URL).content.decode()
    main = page[page.index("<main") : page.index("</main")]

    assert main.count("<form") == 1
    assert re.search(r'<input [^>]*name="file" form="catalogue-form"', main)


def test_a_version_that_there_is_not_is_404(client_for, fabricator):
    assert client_for(fabricator).get("/catalogue/9.json").status_code == 404


def test_a_house_profile_is_saved_and_what_is_wrong_in_it_named_by_its_place(client_for, fabricator, flat):
    shares, depths = ["0.9"] * 6 + ["1"] + ["0.8"] * 12, " ".join(["1.1"] * 19)
    client = client_for(fabricator)

    def post(shares):
        typed = {"profile.girth_shares": " ".join(shares), "profile.depth_over_breadth": depths}
        return client.post(URL, {**flat, **typed})

    refused = post([*shares[:-1], "80"])
    assert refused.status_code == 422
    assert "Number 19: lies outside 0.3 to 1." in refused.content.decode()
    assert versions(fabricator) == 1
    assert post(shares).status_code == 302
    assert editor.newest_of(fabricator.organisation).content["profile"]["girth_shares"][5:8] == [0.9, 1, 0.8]


@pytest.mark.parametrize(
    "do", ["try:²", "try:99999999999999999999", "drop:walls.²", "add:nothing", "try:", "x"]
)
def test_a_button_that_nobody_pressed_changes_nothing(client_for, fabricator, flat, do):
    answer = client_for(fabricator).post(URL, {**flat, "do": do, "based_on": "²"})

    assert answer.status_code in (200, 404, 409)
    assert versions(fabricator) == 1
