import json

import pytest

from orders.reckoning.catalogue import CATALOGUE, CatalogueError, read_catalogue
from tests.orders.entries import catalogue, set_at

TARN, QUAYSIDE = catalogue(), catalogue("quayside-forming")


def leaves(value, path=""):
    if isinstance(value, dict):
        for key, part in value.items():
            yield from leaves(part, f"{path}.{key}" if path else key)
    elif isinstance(value, list):
        yield path, [json.dumps(part) for part in value]
    else:
        yield path, value


def refused(changes: dict) -> str:
    changed = json.loads(json.dumps(TARN))
    for path, new in changes.items():
        set_at(changed, path, new)
    with pytest.raises(CatalogueError) as error:
        read_catalogue(changed)
    return error.value.field


@pytest.mark.parametrize("demo", [TARN, QUAYSIDE], ids=["tarn", "quayside"])
def test_the_demo_catalogues_are_read(demo):
    read = read_catalogue(demo)

    assert {**read, "checks": None} == {**demo, "checks": None}
    assert [check["id"] for check in read["checks"]] == [check["id"] for check in demo["checks"]]


def test_the_demo_catalogues_differ_in_every_line():
    quayside = dict(leaves(QUAYSIDE))
    same = [path for path, value in leaves(TARN) if path != "schema" and quayside[path] == value]

    assert same == []


@pytest.mark.parametrize(
    ("path", "value"),
    [
        ("finished_length_mm.least", 500),
        ("girth_mm.least", 541),
        ("girth_mm.least", "230"),
        ("strap.least_spacing_mm", 121),
        ("strap.least_spacing_mm", 24),
        ("strap.usual_upper_mm", 12),
        ("strap.width_mm", -25),
        ("clearance_mm.still", 11),
        ("clearance_mm.moving", float("nan")),
        ("trim_mm", True),
        ("trim_mm", None),
        ("lead_time_days", 1e300),
        ("walls", []),
        ("name", ""),
        ("schema", "another"),
        ("kerb", 1),
    ],
)
def test_what_cannot_be_is_refused_with_its_path(path, value):
    assert refused({path: value}) == path


def test_one_option_twice_is_refused():
    assert refused({"tops": TARN["tops"] + TARN["tops"][:1]}) == "tops.2.key"


def test_a_limit_under_which_nothing_can_be_made_is_refused():
    assert refused({"finished_length_mm": {"least": 100, "most": 209}}) == "finished_length_mm.most"
    thick = [TARN["walls"][0] | {"wall_mm": 9}]
    assert refused({"girth_mm": {"least": 51, "most": 60}, "walls": thick}) == "girth_mm.least"


def test_a_reach_beyond_the_shell_is_refused():
    assert refused({"rears": [TARN["rears"][0] | {"reach": 1.01}]}) == "rears.0.reach"


def test_an_own_check_keeps_out_of_the_book_s_ids():
    check = QUAYSIDE["checks"][0]

    assert refused({"checks": [check | {"id": "gap.contact"}]}) == "checks.0.id"
    assert refused({"checks": [check, check]}) == "checks.1.id"
    assert refused({"checks": [{**check, "level": "warning"}]}) == "checks.0.level"


# What the shape of a catalogue allows, end by end: this project's own bounds, wider than anybody's workshop.
NUMBER_ENDS = {
    "finished_length_mm.least": (50, 1000), "finished_length_mm.most": (50, 1000),
    "girth_mm.least": (50, 1500), "girth_mm.most": (50, 1500),
    "strap.width_mm": (5, 100), "strap.clearance_mm": (0, 100),
    "strap.usual_upper_mm": (5, 400), "strap.usual_lower_mm": (5, 400),
    "strap.least_spacing_mm": (0, 600), "strap.comfortable_spacing_mm": (0, 600), "strap.mass_g": (0, 500),
    "walls.0.wall_mm": (0.5, 25), "walls.0.density_kg_m3": (10, 9000),
    "rears.0.reach": (0.05, 1), "rears.0.open_share": (0, 0.9), "tops.0.relief_mm": (0, 150),
    "as_made.length_over_mm": (0, 20), "as_made.length_under_mm": (0, 20),
    "as_made.girth_mm": (0, 40), "as_made.strap_place_mm": (0, 40),
    "clearance_mm.still": (0, 60), "clearance_mm.moving": (0, 60), "trim_mm": (0, 60), "lead_time_days": (0, 365),
}  # fmt: skip
PROFILE = {"girth_shares": [0.9] * 6 + [1] + [0.8] * 12, "depth_over_breadth": [1.1] * 19}
NUMBER_ENDS |= {"profile.girth_shares.0": (0.3, 1), "profile.depth_over_breadth.18": (0.6, 2)}
CHECK = {
    "id": "own.one", "level": "note", "fields": [], "needs": [], "when": "true", "says": "a", "do": "a", "at": "none",
    "source": "a", "case": [{"when": "true", "says": "a", "fields": []}],
}  # fmt: skip
TEXT_ENDS = {
    "key": 64, "name": 80, "walls.0.key": 64, "walls.0.label": 80, "colours.0.label": 80, "checks.0.says": 600,
    "checks.0.when": 400, "checks.0.case.0.when": 400, "checks.0.case.0.says": 600,
}  # fmt: skip
LIST_ENDS = {
    "walls": (1, 12), "rears": (1, 12), "tops": (1, 12), "colours": (1, 60), "finishes": (1, 30), "checks": (0, 40),
    "profile.girth_shares": (19, 19), "profile.depth_over_breadth": (19, 19),
    "checks.0.fields": (0, 12), "checks.0.needs": (0, 24), "checks.0.case": (0, 6), "checks.0.case.0.fields": (0, 12),
}  # fmt: skip


def says_of(path: str, new) -> str:
    """What the shape alone says of a catalogue with this at that path; "" if it takes it."""
    *groups, last = (int(key) if key.isdigit() else key for key in path.split("."))
    changed = json.loads(json.dumps(TARN | {"checks": [CHECK], "profile": PROFILE}))
    value = changed
    for key in groups:
        value = value[key]
    value[last] = new
    try:
        CATALOGUE.read(changed, "")
    except CatalogueError as error:
        return error.says if error.field.startswith(path) else f"of another: {error}"
    return ""


@pytest.mark.parametrize("path", NUMBER_ENDS)
def test_a_number_s_ends_are_taken_and_beyond_them_refused(path):
    least, most = NUMBER_ENDS[path]

    assert [says_of(path, end) for end in (least, most)] == ["", ""]
    assert all("lies outside" in says_of(path, beyond) for beyond in (least - 0.001, most + 0.001))


@pytest.mark.parametrize("path", TEXT_ENDS)
def test_a_text_s_ends_are_taken_and_beyond_them_refused(path):
    assert [says_of(path, "a" * count) for count in (1, TEXT_ENDS[path])] == ["", ""]
    assert says_of(path, " ") == "is empty."
    assert "is the most" in says_of(path, "a" * (TEXT_ENDS[path] + 1))


@pytest.mark.parametrize("path", LIST_ENDS)
def test_a_list_s_ends_are_taken_and_beyond_them_refused(path):
    least, most = LIST_ENDS[path]
    item = {"checks": CHECK, "checks.0.case": CHECK["case"][0]}.get(path, "gap")
    item = 1 if path.startswith("profile") else item
    if path in TARN and path != "checks":
        item = TARN[path][0]

    assert [says_of(path, [item] * count) for count in (least, most)] == ["", ""]
    assert "are possible" in says_of(path, [item] * (most + 1))
    assert least == 0 or "are possible" in says_of(path, [])


@pytest.mark.parametrize(
    "changes",
    [
        {"finished_length_mm.least": 300, "finished_length_mm.most": 300},
        {"strap.least_spacing_mm": 100, "strap.comfortable_spacing_mm": 100},
        {"strap.least_spacing_mm": 25, "strap.width_mm": 25},
        {"strap.usual_upper_mm": 12.5, "strap.usual_lower_mm": 12.5},
        {"clearance_mm.still": 10, "clearance_mm.moving": 10},
        # 60 + 60 for the straps and 90 between them
        {"finished_length_mm.least": 200, "finished_length_mm.most": 210},
        # exact to one side, and a whole millimetre either way
        {"as_made.length_over_mm": 0, "as_made.length_under_mm": 1},
        {"as_made.length_over_mm": 1, "as_made.length_under_mm": 0},
        {"as_made.girth_mm": 1, "as_made.strap_place_mm": 1},
    ],
)
def test_what_just_fits_is_taken(changes):
    changed = json.loads(json.dumps(TARN))
    for path, new in changes.items():
        set_at(changed, path, new)

    assert read_catalogue(changed)


@pytest.mark.parametrize("key", ["length_under_mm", "girth_mm", "strap_place_mm"])
def test_what_has_to_come_out_exactly_is_refused(key):
    exact = {"length_over_mm": 0, "length_under_mm": 0} if key == "length_under_mm" else {key: 0}

    assert refused({"as_made": TARN["as_made"] | exact}) == f"as_made.{key}"


def test_the_thickest_wall_leaves_just_something_inside():
    # round a wall of 25 mm: 2 times 3.15 of it, a little more than 2 pi
    walls = [{"key": "w", "label": "w", "wall_mm": 25, "density_kg_m3": 1000}]

    assert refused({"walls": walls, "girth_mm.least": 157.5}) == "girth_mm.least"
    assert read_catalogue(TARN | {"walls": walls, "girth_mm": {"least": 157.6, "most": 500}})


def test_a_house_profile_is_kept_and_its_widest_is_where_the_girth_is_taken():
    assert read_catalogue({**TARN, "profile": PROFILE})["profile"] == PROFILE
    assert "profile" not in read_catalogue(TARN)

    misplaced = {**PROFILE, "girth_shares": [1] + PROFILE["girth_shares"][1:6] + [0.99] + [0.8] * 12}
    with pytest.raises(CatalogueError, match="seventh") as wrong:
        read_catalogue({**TARN, "profile": misplaced})
    assert wrong.value.field == "profile.girth_shares"
