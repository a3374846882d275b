"""What the page of making shows: each shell's stages, what was measured, how the order leaves."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from django.utils.translation import gettext as _

from orders.changes import Shell, shells_of
from orders.inspection import (
    MEASURED,
    LineShown,
    limits_of,
    limits_words,
    lines_shown,
    mass_reckoned,
    places,
)
from orders.making_forms import InspectionForm
from orders.models import Inspection, Order, Revision, StageDone
from orders.order_page import options_in_short
from project.models import Member

MAKING = (Order.State.CONFIRMED, Order.State.IN_MAKING, Order.State.MADE, Order.State.SHIPPED)


@dataclass(frozen=True)
class StageShown:
    """One stage of a shell; `by` is "" while it isn't done."""

    key: str
    name: str
    by: str
    at: datetime | None


@dataclass(frozen=True)
class InspectionShown:
    """One inspection in words."""

    outcome: str
    reason: str
    by: str
    at: datetime
    lines: list[LineShown]


@dataclass(frozen=True)
class ShellMade:
    """One shell on its way. `form` is there while it waits to be measured."""

    shell: Shell
    side: str
    build: str
    colour: str
    attempt: int
    stages: list[StageShown]
    inspections: list[InspectionShown]
    form: InspectionForm | None

    @property
    def mass_g(self) -> float | None:
        """What the finished shell is to weigh. [g]"""
        return mass_reckoned(self.shell)

    @property
    def measure(self) -> list[dict]:
        """What is to be measured, from where, and what it may come out as."""
        limits, where = limits_of(self.shell), places(self.shell.catalogue)
        return [
            {"name": _(name), "place": where[key], "limits": limits_words(limits[key])}
            for key, (name, _place) in MEASURED.items()
        ]


def shells_made(order: Order, current: Revision, bound: InspectionForm | None = None) -> list[ShellMade]:
    """Every shell of the order, in two queries however many there are. `bound` is a form that was just refused."""
    stages = list(order.stages.select_related("by"))
    inspections = list(order.inspections.select_related("by"))
    return [shell_made(order, shell, stages, inspections, bound) for shell in shells_of(current)]


def shell_made(
    order: Order,
    shell: Shell,
    stages: Sequence[StageDone],
    inspections: Sequence[Inspection],
    bound: InspectionForm | None,
) -> ShellMade:
    """One shell with what was written down of it."""
    mine = [inspection for inspection in inspections if inspection.side == shell.side]
    attempt = 1 + sum(inspection.outcome == Inspection.Outcome.REMADE for inspection in mine)
    here = {done.stage: done for done in stages if (done.side, done.attempt) == (shell.side, attempt)}
    waits = order.state == Order.State.IN_MAKING and len(mine) < attempt
    form = bound if bound and bound.shell.side == shell.side else InspectionForm(shell=shell)
    return ShellMade(
        shell=shell,
        side=_(shell.side),
        build=options_in_short(shell, "wall", "rear", "top"),
        colour=options_in_short(shell, "colour", "finish"),
        attempt=attempt,
        stages=[stage_shown(key, name, here) for key, name in StageDone.Stage.choices],
        inspections=[inspection_shown(inspection, shell.catalogue) for inspection in mine],
        form=form if waits else None,
    )


def stage_shown(key: str, name: str, done: Mapping[str, StageDone]) -> StageShown:
    """One stage, with who did it and when."""
    row = done.get(key)
    return StageShown(key, str(name), initials_of(row.by) if row else "", row.at if row else None)


def inspection_shown(inspection: Inspection, catalogue: Mapping) -> InspectionShown:
    """One inspection."""
    return InspectionShown(
        outcome=str(inspection.get_outcome_display()),
        reason=inspection.reason,
        by=initials_of(inspection.by),
        at=inspection.at,
        lines=lines_shown(inspection.lines, catalogue),
    )


def shell_of_side(current: Revision, side: str) -> Shell | None:
    """The shell of this side, or None."""
    return next((shell for shell in shells_of(current) if shell.side == side), None)


def initials_of(member: Member | None) -> str:
    """Who of the workshop; the person may have left."""
    return member.initials if member else _("somebody who has left")
