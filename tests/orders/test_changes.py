import json

import pytest

from orders.changes import Change, Shell, changes
from orders.reckon import reckon
from tests import factories

CATALOGUE = json.loads((factories.CATALOGUES / "tarn-street-moulding-room.json").read_text())


def shell(**entry_changes) -> Shell:
    """A shell as it is stored: an entry with what was reckoned from it."""
    entry = factories.entry(**entry_changes)
    return Shell(entry, reckon(entry, CATALOGUE), CATALOGUE)


def test_nothing_differs_between_a_revision_and_itself():
    assert changes([shell()], [shell()]) == []


def test_answer_and_the_figures_that_follow_from_it_are_listed():
    before = shell(length=["15 1/2"], second_route=None)
    after = shell(length=["16"], second_route=None)

    found = {change.label: (change.was, change.now) for change in changes([before], [after])}

    # 15 1/2 in is 393.7 mm, 16 in is 406.4 mm; less a gap of 12.7 mm, down to a whole mm: 381 and 393.
    assert found["Length as taken"] == ("393.7 mm", "406.4 mm")
    assert found["Finished length"] == ("381 mm", "393 mm")
    assert found["Between straps"] == ("261 mm", "273 mm")
    assert "Girth" not in found


def test_answers_come_before_the_figures():
    found = changes([shell(length=["15 1/2"])], [shell(length=["16"])])

    assert [(change.was, change.now) for change in found[:2]] == [
        ("15 1/2 in", "16 in"),
        ("393.7 mm", "406.4 mm"),
    ]


def test_answer_given_only_now_or_no_longer_reads_not_given():
    without, given = shell(), shell(foot={"label": "size 26"})

    assert changes([without], [given]) == [Change("Name of the foot", "not given", "size 26")]
    assert changes([given], [without]) == [Change("Name of the foot", "size 26", "not given")]


def test_option_reads_as_the_catalogue_calls_it():
    labels = {wall["key"]: wall["label"] for wall in CATALOGUE["walls"]}

    found = changes([shell()], [shell(shell={"wall": "thick"})])

    assert (found[0].label, found[0].was, found[0].now) == ("Wall", labels["thin"], labels["thick"])


def test_reason_is_named_by_its_flag_and_quoted():
    before = shell(taken="seated", answers={"taken.not_standing": "Too weak today."})
    after = shell(taken="seated", answers={"taken.not_standing": "Stands only with help."})

    (found,) = changes([before], [after])

    assert found.label.startswith("Reason for: ")
    assert "taken.not_standing" not in found.label
    assert (found.was, found.now) == ("“Too weak today.”", "“Stands only with help.”")


def test_two_shells_are_compared_side_by_side_whatever_their_order():
    left, right = shell(side="left"), shell(side="right")
    wider = shell(side="right", girth=["15", "15"])

    found = changes([left, right], [wider, left])

    assert {change.side for change in found} == {"right"}
    # Told apart from the readings by its place; whole mm, half up: 14 3/4 in is 374.65 mm.
    assert Change("Girth, outside, at the widest", "375 mm", "381 mm", "right") in found
    assert [change.label for change in found].count("Girth") == 1


def test_no_two_changes_of_a_shell_have_one_name():
    before = shell(girth=["15", "15"], gap="1 in", answers={"gap.outside_practice": "Asked for."})
    after = shell(girth=["16", "16"], gap="1 1/2 in", answers={"gap.outside_practice": "Asked for."})

    labels = [change.label for change in changes([before], [after])]

    assert {"Girth", "Girth, outside, at the widest", "Gap", "Gap, left open above the rim"} <= set(labels)
    assert len(set(labels)) == len(labels)


@pytest.mark.parametrize(
    ("before", "after", "words"),
    [(1, 2, ("not ordered", "ordered")), (2, 1, ("ordered", "not ordered"))],
)
def test_shell_that_came_or_went_is_one_change(before, after, words):
    both = [shell(side="left"), shell(side="right")]

    found = changes(both[:before], both[:after])

    assert [(change.label, change.was, change.now) for change in found] == [("Shell, right", *words)]


def test_side_of_the_only_shell_is_a_change_of_an_answer():
    assert changes([shell(side="left")], [shell(side="right")]) == [Change("Side", "left", "right")]
