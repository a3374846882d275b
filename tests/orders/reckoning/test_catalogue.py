import json

import pytest

from orders.reckoning.catalogue import CatalogueError, read_catalogue
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
