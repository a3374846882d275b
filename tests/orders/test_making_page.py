import pytest

from orders import moves
from orders.changes import shells_of
from orders.making_forms import InspectionForm
from orders.making_page import initials_of, shell_of_side, shells_made
from orders.models import Inspection
from tests import factories

pytestmark = pytest.mark.django_db
Outcome = Inspection.Outcome


@pytest.fixture
def begun(clinician, fabricator):
    """Two shells in making."""
    order = factories.order(
        clinician, fabricator.organisation, factories.entry(), factories.entry(side="right")
    )
    moves.confirm(order, order.current.seal.sha256, fabricator)
    moves.start(order, fabricator)
    return order


def inspected(order, member, side, outcome, attempt=1):
    lines = {"side": side, "outcome": outcome, "attempt": attempt, "typed": {}, "lines": []}
    moves.inspect(order, member, Inspection(**lines))


def by_side(order, bound=None):
    return {made.shell.side: made for made in shells_made(order, order.current, bound)}


def done(made):
    return [stage.key for stage in made.stages if stage.by]


def test_only_a_shell_that_is_not_measured_yet_is_asked_for(begun, fabricator):
    assert [bool(made.form) for made in by_side(begun).values()] == [True, True]

    inspected(begun, fabricator, "left", Outcome.PASSED)

    made = by_side(begun)
    assert (made["left"].form, len(made["left"].inspections)) == (None, 1)
    assert (bool(made["right"].form), made["right"].inspections) == (True, [])


def test_a_shell_that_is_made_again_starts_with_no_stage_done_and_is_measured_again(begun, fabricator):
    first = made_stage = by_side(begun)["left"].stages[0].key
    for side in ("left", "right"):
        moves.mark_stage(begun, fabricator, side, made_stage, True)

    inspected(begun, fabricator, "left", Outcome.REMADE)

    left, right = by_side(begun).values()
    assert (left.attempt, done(left), bool(left.form)) == (2, [], True)
    assert (right.attempt, done(right)) == (1, [first])
    moves.mark_stage(begun, fabricator, "left", first, True)
    assert done(by_side(begun)["left"]) == [first]


def test_a_refused_form_stands_at_its_own_shell_alone(begun):
    right = next(shell for shell in shells_of(begun.current) if shell.side == "right")
    bound = InspectionForm({"right-mass": "heavy"}, shell=right)

    made = by_side(begun, bound)

    assert made["right"].form is bound
    assert not made["left"].form.is_bound


def test_a_shell_is_found_by_its_side(begun):
    assert shell_of_side(begun.current, "right").side == "right"
    assert shell_of_side(begun.current, "") is None


def test_who_has_left_is_said_to_have_left(begun, fabricator, other_fabricator):
    stage = by_side(begun)["left"].stages[0].key
    moves.mark_stage(begun, fabricator, "left", stage, True)
    assert by_side(begun)["left"].stages[0].by == initials_of(fabricator) == "T. M."

    begun.stages.update(by=None)

    assert by_side(begun)["left"].stages[0].by == "somebody who has left"
