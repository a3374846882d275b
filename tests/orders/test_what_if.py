import pytest

from orders.changes import Shell
from orders.reckon import CatalogueError, reckon
from orders.what_if import flags_tried, kept_by_mechanism, shell_tried, started
from tests.orders.entries import catalogue, entry_with

TARN = catalogue()
# 400 mm taken, solid ankle: 12.7 mm is usual, so that 387 is made (worked by hand). A reason was given for one flag.
ENTRY = entry_with(
    {
        "length": ["400", "400"],
        "girth": ["380", "380"],
        "taken": "seated",
        "knee": {"named": "single_axis", "control": "mechanical", "hardware_length": "100"},
        "answers": {"taken.not_standing": "Can't stand today."},
    }
)


@pytest.fixture(scope="module")
def sent() -> Shell:
    return Shell(ENTRY, reckon(ENTRY, TARN, told=True), TARN)


def figures(shell: Shell, *keys: str) -> list:
    return [shell.result[key] for key in keys]


def test_the_form_starts_at_the_figures_as_sent(sent):
    assert started(sent) == {
        "gap": "12.7",
        "girth": "380",
        "upper_strap": "122.5",  # 100 of hardware, 10 clear, half of 25
        "lower_strap": "60",
        "wall": "thin",
    }


def test_nothing_wished_is_the_shell_as_sent(sent):
    same = shell_tried(sent, {}, {})

    assert same.result == sent.result
    assert same.entry == sent.entry


def test_another_gap_is_taken_off_once(sent):
    tried = shell_tried(sent, {"gap": "20.5 mm"}, {})

    assert figures(tried, "gap_mm", "finished_length_mm", "strap_spacing_mm") == [20.5, 379, 379 - 122.5 - 60]
    assert "gap" not in sent.entry


def test_another_girth_keeps_its_count_of_readings(sent):
    tried = shell_tried(sent, {"girth": "39 cm"}, {})

    assert figures(tried, "girth_mm", "girth_U_mm") == [390.0, sent.result["girth_U_mm"]]


def test_another_wall_changes_the_inside_by_two_pi_times_the_difference(sent):
    tried = shell_tried(sent, {"wall": "thick"}, {})

    assert tried.result["inside_girth_mm"] == pytest.approx(380 - 2 * 3.141592653589793 * 7.5, abs=0.001)
    assert tried.result["mass_g"] > sent.result["mass_g"]


def test_straps_move_and_the_mechanism_keeps_what_it_needs(sent):
    low = shell_tried(sent, {"upper_strap": 150.0, "lower_strap": 80.0}, {})
    high = shell_tried(sent, {"upper_strap": 90.0}, {})

    assert figures(low, "upper_strap_mm", "lower_strap_mm", "strap_spacing_mm") == [150, 80, 387 - 230]
    assert kept_by_mechanism(low, {"upper_strap": 150.0, "lower_strap": 80.0}) == {}
    assert figures(high, "upper_strap_mm", "lower_strap_mm") == [122.5, 60]
    assert kept_by_mechanism(high, {"upper_strap": 90.0}) == {"upper_strap": 122.5}


def test_a_place_that_no_strap_can_have_is_refused(sent):
    with pytest.raises(CatalogueError) as error:
        shell_tried(sent, {"upper_strap": 3.0}, {})
    assert error.value.field == "strap.usual_upper_mm"


def test_flags_follow_and_are_told_apart_from_those_of_the_order(sent):
    tried = shell_tried(sent, {"gap": "6 mm"}, {})

    flags, gone = flags_tried(sent, tried)

    # 6 mm of gap, of which a solid ankle's rim takes 6.764 (worked case 1): the foot strikes the shell.
    contact = flags[0]
    assert (contact.flag.level, contact.new) == ("stop", True)
    assert "strikes the shell" in contact.flag.says
    assert [one.new for one in flags if "standing" in one.flag.says.lower()] == [False]
    assert gone == []


def test_a_flag_that_goes_is_told(sent):
    tight = shell_tried(sent, {"gap": "8 mm"}, {})

    _, gone = flags_tried(tight, sent)

    assert [flag.says for flag in gone if "tight" in flag.says]


def test_a_reason_holds_only_for_the_figures_it_was_given_for():
    entry = entry_with(
        {
            "length": ["400", "400"],
            "gap": "10",
            "taken": "seated",
            "answers": {"gap.less_than_advised": "As last time.", "taken.not_standing": "Can't stand."},
        }
    )
    sent = Shell(entry, reckon(entry, TARN, told=True), TARN)

    tried = shell_tried(sent, {"gap": "11 mm"}, {})

    assert tried.entry["answers"] == {"taken.not_standing": "Can't stand."}
    assert shell_tried(sent, {}, {}).entry["answers"] == entry["answers"]
