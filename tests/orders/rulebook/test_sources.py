"""Where each check comes from, and what the survey's own figures make of the limits that rest on it."""

import csv
import re
from pathlib import Path

import pytest

from orders.rulebook.book import book_content, load_book

# Of every check what it rests on. Common practice of the trade has no source, and a default of this project none either:
# both say so. "Plain geometry" and "by definition" are worked by hand beside the cases in test_checks.py.
RESTS_ON = {
    "[ANSUR II]": """reading.repeats_differ length.unusual length.unlike_stature girth.unusual shape.unusual
        girth.extra_unusual""",
    "common practice, no source": """reading.only_one girth.not_sound girth.chosen girth.see_someone girth.over_stocking
        gap.outside_practice gap.less_than_advised shoe.collar strap.across_moving_part strap.pad_advised
        knee.hardware_missing stop.meets_edge foot.hardware_missing rear.meets_foot wall.wear wall.hard_to_don
        service.unasked taken.not_standing build.foam build.exoskeletal level.shape person.grows photo.missing""",
    "this design's default": """reading.unreadable reading.wrong_unit length.routes_differ length.rim_unusual
        length.impossible girth.impossible gap.tight foot.hardware_unexpected foot.axis_unknown photo.disagrees
        order.repeated order.changed""",
    "plain geometry": """girth.extra_unplaced gap.contact strap.in_fold knee.hardware_beyond_shell knee.thigh_side_low
        rear.nothing_left service.covered strap.over_edge""",
    "four-bar linkage, plane geometry": "knee.pivots_lock",
    "by definition": "knee.pivots_disagree",
    "the catalogue's": "strap.no_room strap.close knee.tight foot.tight catalogue.not_made",
}  # fmt: skip
ENTRIES = [
    entry
    for part in book_content()[0].values()
    for kind in ("figure", "check")
    for entry in part.get(kind, [])
]
CHECKS = {entry["id"]: entry for entry in ENTRIES if "level" in entry}
PERCENTILES = Path(__file__).parents[1] / "reference" / "ansur2_percentiles.csv"


def survey(measure: str) -> dict[str, tuple[float, float]]:
    """Of a measure the lesser and the greater of men's and women's extremes and percentiles, by name."""
    lines = PERCENTILES.read_text(encoding="utf-8").splitlines()
    rows = list(csv.DictReader(line for line in lines if not line.startswith("#")))
    men, women = [row for row in rows if row["measure"] == measure]
    return {
        name: tuple(sorted((float(men[name]), float(women[name]))))
        for name in ("min", "p0.1", "p1", "p99", "p99.9", "max")
    }


def limits_of(check: str) -> list[float]:
    """The numbers of a check's question."""
    return sorted(float(number) for number in re.findall(r"\d+\.\d+", CHECKS[check]["when"]))


def test_every_check_rests_on_what_the_design_says():
    rests_on = {check: kind for kind, checks in RESTS_ON.items() for check in checks.split()}

    assert rests_on.keys() == {check["id"] for check in load_book().checks}
    assert [check for check, kind in rests_on.items() if kind not in CHECKS[check]["source"]] == []


def test_the_survey_s_figures_in_the_book_are_its_own():
    calf, shank = survey("calfcircumference"), survey("shanklength")

    assert "266 and 523" in CHECKS["girth.impossible"]["source"]
    assert (calf["min"][0], calf["max"][1]) == (266, 523)
    assert "288 and 527" in CHECKS["length.impossible"]["source"]
    assert "288 and 527" in CHECKS["length.unusual"]["source"]
    assert (shank["min"][0], shank["max"][1]) == (288, 527)


@pytest.mark.parametrize(
    ("check", "measure", "written"),
    [
        ("shape.unusual", "calf_to_shanklength_ratio", "0.762 to 1.204"),
        ("girth.extra_unusual", "ankle_to_calf_ratio", "0.512 to 0.651"),
    ],
)
def test_the_survey_s_98_in_100_lie_well_within_a_shape_s_limits(check, measure, written):
    found = survey(measure)
    least, most = limits_of(check)

    assert written in CHECKS[check]["source"]
    assert f"{found['p1'][0]:.3f} to {found['p99'][1]:.3f}" == written
    # nobody of the survey is asked about
    assert least < found["min"][0]
    assert found["max"][1] < most


def test_who_the_survey_holds_for_ordinary_is_not_asked_about():
    # a length as taken, apex to rim, is the shank's, mid-patella to malleolus, within a few cm at either mark
    assert limits_of("length.unusual")[0] < survey("shanklength")["min"][0]
    assert limits_of("length.unusual")[1] > survey("shanklength")["max"][1]
    # all but one in a thousand at either end
    least, most = limits_of("girth.unusual")
    assert least < survey("calfcircumference")["p0.1"][0]
    assert survey("calfcircumference")["p99.9"][1] < most
    assert limits_of("girth.impossible")[0] < survey("calfcircumference")["min"][0]
    assert limits_of("girth.impossible")[1] > survey("calfcircumference")["max"][1]
