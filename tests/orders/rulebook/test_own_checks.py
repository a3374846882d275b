import copy

import pytest

from orders.reckon import catalogue_for_phone, reckon
from orders.rulebook.expression import ExpressionError
from orders.rulebook.givens import BookError
from orders.rulebook.own_checks import read_question
from tests.orders.entries import catalogue, entry_with

QUAYSIDE = catalogue("quayside-forming")
# Quayside's own: a finished length under 280 with a girth over 420; a reach over 0.8 and help to put it on.
SOLID_GAP_MM = 12.7  # solid ankle, common practice


def entry(taken: str, girth: str, rear: str = "half", help_to_don: bool = False) -> dict:
    person = {"k_level": "K2", "heavy_wear": False, "needs_help_to_don": help_to_don, "age_band": "adult"}
    shell = {"wall": "standard", "rear": rear, "top": "rounded", "colour": "sand", "finish": "smooth"}
    return entry_with(
        {
            "length": [taken, taken],
            "girth": [girth, girth],
            "shell": shell,
            "person": person | {"stature": None, "body_mass_kg": None, "sex": None},
        }
    )


def ids(taken: str, girth: str, **more) -> set[str]:
    flags = reckon(entry(taken, girth, **more), QUAYSIDE)["flags"]
    return {flag["id"] for flag in flags if flag["id"].startswith("own.")}


def test_a_short_and_stout_shell_is_asked_about():
    assert ids("292.6", "420.1") == {"own.short_and_stout"}  # 292.6 - 12.7 = 279.9, made 279
    assert ids("292.7", "420.1") == set()  # made 280: exactly on the limit
    assert ids("292.6", "420") == set()
    assert ids("400", "380") == set()


def test_a_full_rear_and_help_to_don_is_noted():
    assert ids("400", "380", rear="full", help_to_don=True) == {"own.long_rear_stiff"}
    assert ids("400", "380", rear="three_quarter", help_to_don=True) == set()
    assert ids("400", "380", rear="full") == set()


def test_a_reach_exactly_on_the_limit_is_not_noted():
    workshop = copy.deepcopy(QUAYSIDE)
    workshop["rears"][2]["reach"] = 0.8

    flags = reckon(entry("400", "380", rear="full", help_to_don=True), workshop)["flags"]

    assert "own.long_rear_stiff" not in {flag["id"] for flag in flags}


def test_its_sentence_has_the_numbers_seen():
    (flag,) = [flag for flag in reckon(entry("290", "430"), QUAYSIDE)["flags"] if flag["level"] == "explain"]

    assert (
        flag["says"] == "A shell 277\u00a0mm long with a girth of 430\u00a0mm is hard to draw off our moulds."
    )


def test_a_workshop_s_check_is_not_another_workshop_s():
    tarn = reckon(entry_with({"length": ["290"] * 2, "girth": ["430"] * 2}), catalogue())["flags"]

    assert not [flag for flag in tarn if flag["id"].startswith("own.")]


def refused(**changed) -> BookError:
    """What is said of Quayside's second check with these parts changed."""
    workshop = copy.deepcopy(QUAYSIDE)
    workshop["checks"][1] |= changed
    with pytest.raises(BookError) as error:
        catalogue_for_phone(workshop)
    return error.value


CASE = {"when": "true", "says": "More."}


@pytest.mark.parametrize(
    ("key", "value", "part", "place", "says"),
    [
        ("when", "more(reach, 0.8) && help", "when", 21, "nothing is called “help”"),
        ("when", "more(reach, 1)", "when", 13, "write 1 as 1.0"),
        ("when", "reach > 0.8", "when", 7, "compare numbers with less(a, b) or more(a, b)"),
        ("when", "ankle == 'soild'", "when", 10, "“soild” is none of solid, spring, jointed, wide"),
        ("when", "k_level in ['K5']", "when", 12, "“K5” is none of K0, K1"),
        ("when", "reach + 0.8", "when", 7, "this gives a number, not a flag"),
        ("when", "(" * 30 + "true" + ")" * 30, "when", 25, "nested more than 24 levels deep"),
        ("fields", ["shell.back"], "fields", None, "the sheet has no field “shell.back”"),
        ("at", "behind", "at", None, "“behind” is no place on the figure"),
        ("says", "{mass_lb} is heavy.", "says", None, "its sentence speaks of “mass_lb”"),
        ("do", "Look at {mass_lb}.", "do", None, "its sentence speaks of “mass_lb”"),
        ("needs", ["stiffness"], "needs", None, "needs “stiffness”, which nothing is called"),
        ("case", [CASE, CASE | {"when": "reach"}], "case.1.when", 1, "this gives a number, not a flag"),
        ("case", [CASE | {"at": "behind"}], "case.0.at", None, "“behind” is no place on the figure"),
        ("offer", {"field": "wall", "value": "thin"}, "offer.field", None, "the sheet has no field “wall”"),
        ("offer", {"field": "gap", "value": "{gap}"}, "offer.value", None, "its sentence speaks of “gap”"),
        (
            "offer",
            {"field": "gap", "value": "20", "when": "gapp"},
            "offer.when",
            1,
            "nothing is called “gapp”",
        ),
    ],
)
def test_an_own_check_that_cannot_be_used_is_refused_at_its_part(key, value, part, place, says):
    error = refused(**{key: value})

    assert error.entry == "own.long_rear_stiff"
    assert (error.part, error.place) == (part, place)
    assert says in error.says


def test_an_own_check_that_no_phone_can_raise_is_only_a_note():
    heavy = {"when": "more(mass_g, 900.0)", "needs": ["mass_g"]}

    assert refused(level="stop", **heavy).part == "level"
    assert refused(level="explain", **heavy).part == "level"
    assert refused(level="stop", when="photo_knee", needs=["photo_knee"]).part == "level"


def test_what_an_own_check_always_looks_up_need_not_be_listed():
    workshop = copy.deepcopy(QUAYSIDE)
    workshop["checks"][1].pop("needs")

    _, check = catalogue_for_phone(workshop)["own_checks"]

    assert check["needs"] == ["reach"]
    flags = reckon(entry("400", "380", rear="full", help_to_don=True), workshop)["flags"]
    assert "own.long_rear_stiff" in {flag["id"] for flag in flags}


def test_a_question_is_read_alone_as_it_is_typed():
    assert read_question("more(reach, 0.8)") == ["more", "reach", 0.8]
    with pytest.raises(ExpressionError, match="the question is missing"):
        read_question(" ")


def test_a_missing_question_is_missing_from_its_first_character():
    with pytest.raises(ExpressionError) as missing:
        read_question("  ")

    assert missing.value.place == 1
