"""What the handout holds: its leaves in reading order, each with the one before and the one after."""

import re
from dataclasses import dataclass, replace

from django.utils.translation import gettext as _

from orders.changes import Shell, shells_of
from orders.handout_steps import Step, is_powered, step_off, steps_on
from orders.models import Handout
from project.models import Organisation


@dataclass(frozen=True)
class Leaf:
    """One leaf: a step with its drawing, or words from a template.

    Attributes
    ----------
    anchor : str
        Its place in the page, "left-3" or "stop".
    part : str
        What it belongs to: "Putting it on, left leg".
    title, called : str
        Its heading, and what a button that leads to it calls it.
    step : Step or None
        The step it shows.
    body : str
        Template of its words, where it is no step.
    number, of : int
        Which step it is, and of how many; 0 where it is none.
    on_paper : bool
        Whether it is printed.
    back : str
        Anchor of the leaf before; "" on the first.
    follows : Leaf or None
        The leaf after, on the last None.
    """

    anchor: str
    part: str
    title: str
    called: str
    step: Step | None = None
    body: str = ""
    number: int = 0
    of: int = 0
    on_paper: bool = True
    back: str = ""
    follows: "Leaf | None" = None

    @property
    def ticks(self) -> list[bool]:
        """One for each step, true up to this one."""
        return [place < self.number for place in range(self.of)]


def handout_page(handout: Handout) -> dict:
    """The page's context."""
    shells = shells_of(handout.revision)
    clinic = handout.order.clinic
    leaves = linked([*leaves_of_steps(shells), *leaves_of_words()])
    return {
        "handout": handout,
        "clinic": clinic,
        **calls(clinic),
        "shells": shells,
        "sides": [side_words(shell.side) for shell in shells],
        "leaves": leaves,
        "first": leaves[0],
        "contents": contents(leaves),
        "powered": any(is_powered(shell.entry) for shell in shells),
        "reachable": [point for shell in shells for point in points_of(shell, len(shells) > 1)],
    }


def leaves_of_steps(shells: list[Shell]) -> list[Leaf]:
    """Putting on and taking off, shell by shell."""
    leaves = []
    for shell in shells:
        side = side_words(shell.side) if len(shells) > 1 else ""
        part = _("Putting it on") + (f", {side}" if side else "")
        steps = steps_on(shell)
        for number, step in enumerate(steps, start=1):
            called = f"{step.called}, {side}" if side and number == 1 else step.called
            leaves.append(
                Leaf(f"{shell.side}-{number}", part, step.title, called, step, "", number, len(steps))
            )
        leaves.append(leaf_off(shell, side))
    return leaves


def leaf_off(shell: Shell, side: str) -> Leaf:
    """Taking one shell off."""
    step = step_off(shell)
    title = f"{step.title}, {side}" if side else step.title
    return Leaf(f"{shell.side}-off", title, title, step.called, step)


def leaves_of_words() -> list[Leaf]:
    """What to know besides: care, days, looking, stopping, calling, telling, and a carer's leaf."""
    told = (
        ("care", _("Looking after it"), _("looking after it")),
        ("days", _("Day to day"), _("day to day")),
        ("look", _("What to look at"), _("what to look at")),
        ("stop", _("When to stop"), _("when to stop")),
        ("call", _("Whom to call"), _("whom to call")),
        ("problem", _("Tell the clinic"), _("tell the clinic")),
        ("carer", _("For a carer"), _("for a carer")),
    )
    return [
        Leaf(
            anchor, title, title, called, body=f"orders/_handout_{anchor}.html", on_paper=anchor != "problem"
        )
        for anchor, title, called in told
    ]


def linked(leaves: list[Leaf]) -> list[Leaf]:
    """The leaves, each with the one before and the one after."""
    befores = ["start", *(leaf.anchor for leaf in leaves)]
    afters = [*leaves[1:], None]
    return [
        replace(leaf, back=back, follows=follows)
        for leaf, back, follows in zip(leaves, befores, afters, strict=False)
    ]


def contents(leaves: list[Leaf]) -> list[tuple[str, str]]:
    """Anchor and name of each part, in order."""
    names: dict[str, str] = {}
    for leaf in leaves:
        names.setdefault(leaf.part, leaf.anchor)
    return [(anchor, part) for part, anchor in names.items()]


def points_of(shell: Shell, named: bool) -> list[str]:
    """What must stay reachable on this leg: "charging port, at the rear"; with the leg where there are two."""
    places = {
        "front": _("at the front"),
        "rear": _("at the rear"),
        "inner": _("on the inner side"),
        "outer": _("on the outer side"),
    }
    side = f", {side_words(shell.side)}" if named else ""
    return [
        f"{point['what']}, {places[point['side']]}{side}" for point in shell.entry.get("service_points") or []
    ]


def side_words(side: str) -> str:
    """Which leg."""
    return _("left leg") if side == "left" else _("right leg")


def calls(clinic: Organisation | None) -> dict[str, str]:
    """How the clinic is called: `call` the address of its telephone, `night_number` and `night_call` out of hours."""
    night = number_in(clinic.out_of_hours) if clinic else ""
    return {
        "call": call_address(clinic.telephone) if clinic else "",
        "night_number": night,
        "night_call": call_address(night),
    }


def number_in(text: str) -> str:
    """The one telephone number that a text holds, as it is written there; "" where there is none or more than one.

    ITU-T E.164, 6.2: a number has at most 15 digits. With fewer than nine it may as well be an hour or a day.
    """
    runs = [run.strip() for run in re.findall(r"[+(]?\d[\d ()/-]*\d", text)]
    numbers = [run for run in runs if 9 <= sum(letter.isdigit() for letter in run) <= 15]
    return numbers[0] if len(numbers) == 1 else ""


def call_address(written: str) -> str:
    """A telephone number as an address to call; "" where it has no digits."""
    written = written.strip()
    if written.startswith("+"):
        # After the country's code no trunk nought is dialled, though many write it all the same.
        written = written.replace("(0)", "")
    digits = re.sub(r"[^0-9+]", "", written)
    return f"tel:{digits}" if digits else ""
