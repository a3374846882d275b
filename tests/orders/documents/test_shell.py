import pytest

from orders.documents.shell import CannotBeMade, made_shell, plain
from orders.reckon import reckon
from tests import factories

from .shells import catalogue, shell, trimmed


def test_plain_case_has_its_worked_figures():
    # worked case 1 of the reckoning: 381 long, straps 60 from either end
    plain_case = shell()

    assert (plain_case.length_mm, plain_case.upper_mm, plain_case.lower_mm) == (381, 60, 321)
    assert plain_case.ordered.wall_mm == 4
    assert plain_case.ordered.outline[6].girth_mm == pytest.approx(374.65, abs=1e-3)
    assert plain_case.name == "T-0001 left revision 1"


def test_numbers_are_the_own_workshops():
    other = trimmed()

    assert (other.ordered.wall_mm, other.ordered.cut.relief_mm) == (5, 28)
    assert (other.trim_mm, other.strap_width_mm) == (10, 20)


@pytest.mark.parametrize("kind", ["wall", "rear", "top"])
def test_option_that_the_catalogue_lacks_is_told(kind):
    entry, made_by = factories.entry(), catalogue()
    result = reckon(entry, made_by)
    entry["shell"][kind] = "gone"

    with pytest.raises(CannotBeMade, match=f"shell.{kind} is gone"):
        made_shell("T-0001", 1, entry, result, made_by)


@pytest.mark.parametrize(
    "missing", ["finished_length_mm", "upper_strap_mm", "lower_strap_mm", "stations", "rear_trim_mm"]
)
def test_result_without_a_figure_is_told(missing):
    entry, made_by = factories.entry(), catalogue()
    result = reckon(entry, made_by) | {missing: None}

    with pytest.raises(CannotBeMade, match=missing):
        made_shell("T-0001", 1, entry, result, made_by)


def test_edges_that_would_meet_are_told():
    entry, made_by = factories.entry(), catalogue()
    result = reckon(entry, made_by) | {"rear_trim_mm": 300.0}

    with pytest.raises(CannotBeMade, match="rear_trim_mm is 300"):
        _ = made_shell("T-0001", 1, entry, result, made_by).edges


def test_name_holds_plain_letters_alone():
    assert plain("NF-0147\n“é”") == "NF-0147____"
    assert plain("a~ b") == "a~ b"
