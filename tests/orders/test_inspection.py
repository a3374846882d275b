"""Expected limits are worked by hand: 393.7 mm taken less a gap of 12.7 is 381 (+0/-2).

The girth is 374.65 within 5, the straps 60 within 3, by the tests' catalogue.
"""

import pytest
import trimesh

from orders.changes import shells_of
from orders.inspection import Misread, length_line, limits_of, limits_words, lines_shown, mass_line, places
from orders.making_forms import InspectionForm
from orders.reckoning.ordered import ordered, surfaces
from tests import factories


@pytest.fixture
def shell(clinician, fabricator):
    order = factories.order(clinician, fabricator.organisation)
    return shells_of(order.current)[0]


GOOD = {
    "left-unit": "mm",
    "left-length_0": "380",
    "left-length_1": "380.5",
    "left-girth_0": "37.5 cm",
    "left-upper_strap_0": "60",
    "left-lower_strap_0": "2 3/8 in",
    "left-mass": "450",
    "left-decision": "",
    "left-reason": "",
}


def form(shell, **changes):
    return InspectionForm({**GOOD, **{f"left-{key}": value for key, value in changes.items()}}, shell=shell)


def test_a_shell_within_its_limits_passes(shell):
    good = form(shell)

    assert good.is_valid(), good.errors
    inspection = good.inspection(1)
    assert (inspection.outcome, inspection.attempt, inspection.reason) == ("passed", 1, "")
    assert inspection.typed["length"] == ["380", "380.5"]
    lines = {line["key"]: line for line in inspection.lines}
    assert lines["length"]["measured"] == 380.25
    assert lines["girth"]["measured"] == 375
    assert lines["lower_strap"]["measured"] == 60.325  # 2 3/8 in
    assert (lines["length"]["least"], lines["length"]["most"]) == (379, 381)


def test_a_miss_without_a_decision_is_asked_about_and_nothing_is_lost(shell):
    missed = form(shell, length_0="385", length_1="")

    assert not missed.is_valid()
    assert list(missed.errors) == ["decision"]
    assert "Beyond its limits: Length." in missed.errors["decision"][0]
    assert missed["length"].value() == ["385", "", None]
    assert missed.rows()[0]["line"].says == "4 mm over"


@pytest.mark.parametrize("decision", ["accepted", "remade"])
def test_a_miss_is_accepted_or_made_again_with_a_reason_alone(shell, decision):
    assert list(form(shell, length_0="370", length_1="", decision=decision).errors) == ["reason"]

    decided = form(shell, length_0="370", length_1="", decision=decision, reason=" Agreed. ")

    assert decided.is_valid()
    assert (decided.inspection(2).outcome, decided.inspection(2).reason) == (decision, "Agreed.")


def test_there_is_nothing_to_accept_where_nothing_was_missed(shell):
    assert list(form(shell, decision="accepted", reason="Fine.").errors) == ["decision"]


def test_a_shell_within_its_limits_may_be_made_again_all_the_same(shell):
    assert form(shell, decision="remade", reason="Scratched.").is_valid()


@pytest.mark.parametrize(
    ("changes", "field", "says"),
    [
        ({"length_0": "38.1", "length_1": ""}, "length", "If you mean 38.1 cm"),
        ({"length_0": "15", "length_1": ""}, "length", "If you mean 15 in"),
        ({"unit": "cm", "length_0": "381", "length_1": ""}, "length", "If you mean 381 mm"),
        ({"girth_0": ""}, "girth", "Measure it"),
        ({"girth_0": "about 375"}, "girth", "Read “about 375”"),
        ({"girth_0": "-375"}, "girth", "-375"),
        ({"length_1": "376"}, "length", "4 mm apart"),
        ({"mass": ""}, "mass", "Weigh it"),
        ({"mass": "0.45"}, "mass", "in grams"),
        ({"mass": "0"}, "mass", "in grams"),
        ({"mass": "heavy"}, "mass", "no number of grams"),
        ({"unit": "ft"}, "unit", "not one of the available choices"),
    ],
)
def test_what_can_not_be_taken_stands_at_its_field(shell, changes, field, says):
    refused = form(shell, **changes)

    assert not refused.is_valid()
    assert says in " ".join(refused.errors[field])


def test_a_third_reading_settles_two_that_differ(shell):
    settled = form(shell, length_0="380", length_1="376", length_2="380")

    assert settled.is_valid()
    assert settled.inspection(1).lines[0]["measured"] == 380


def test_limits_are_told_with_their_unit(shell):
    assert limits_words(limits_of(shell)["length"]) == "379 to 381 mm"


def test_places_are_told_to_a_trim_line_where_one_is_marked(clinician):
    quayside = factories.workshop(catalogue="quayside-forming")
    content = quayside.catalogues.get().content

    assert places(content)["length"] == "top edge to the trim line"
    assert places({**content, "trim_mm": 0})["length"] == "top edge to bottom edge"


def test_lines_read_as_words(shell):
    line = length_line("upper_strap", ["64.2"], "mm", limits_of(shell)["upper_strap"])

    under, mass = lines_shown([vars(line), vars(mass_line(540, 450))], shell.catalogue)

    assert (under.name, under.measured, under.unit, under.says, under.missed) == (
        "Upper strap",
        "64.2",
        "mm",
        "1.2 mm over",
        True,
    )
    assert mass.says == "20 % heavier than reckoned: look at the wall"
    assert not mass.missed


def test_a_shell_made_by_its_files_weighs_about_what_is_reckoned(shell):
    # the files' own wall, 4 mm of 1270 kg/m³, as trimesh has its volume, and two straps of 15 g
    body = trimesh.Trimesh(*surfaces(*ordered(shell.result, shell.entry["shell"], shell.catalogue)).shell)
    weighed = form(shell, mass=f"{body.volume * 1270e-6 + 30:.0f}")

    assert weighed.is_valid(), weighed.errors
    (mass,) = [line for line in lines_shown(weighed.inspection(1).lines, shell.catalogue) if line.unit == "g"]
    assert mass.says == "as reckoned"


def test_a_reading_that_is_no_length_is_said_so(shell):
    with pytest.raises(Misread, match="cm"):
        length_line("length", ["38 cm 10 in"], "mm", limits_of(shell)["length"])
