"""Putting the shell on and taking it off, step by step, in the words and drawings of one very shell."""

from dataclasses import dataclass, replace
from fractions import Fraction

from django.utils.translation import gettext as _

from orders.changes import Shell
from orders.drawings import in_page
from orders.figure import scene_of
from orders.figure.steps import draw_step
from orders.figure_rows import digits
from orders.reckoning.typed import inches_text

POWERED = ("microprocessor", "powered")


@dataclass(frozen=True)
class Step:
    """One step: at most three short sentences, one drawing.

    Attributes
    ----------
    key : str
        Its drawing, a key of orders/figure/steps.py.
    title, called : str
        Its heading, and what a button that leads to it calls it.
    sentences : tuple of str
        What to do.
    shows : str
        What the drawing shows, for who can't see it; without the side.
    drawing : str
        SVG.
    """

    key: str
    title: str
    called: str
    sentences: tuple[str, ...]
    shows: str
    drawing: str = ""


def steps_on(shell: Shell) -> list[Step]:
    """The seven steps of putting this shell on, drawn."""
    words = [
        sit(),
        straighten(shell.entry),
        put_round(shell),
        lower_strap(shell.entry),
        upper_strap(),
        loose_ends(),
        first_steps(shell.entry),
    ]
    return [drawn(step, shell) for step in words]


def step_off(shell: Shell) -> Step:
    """Taking this shell off, drawn."""
    step = Step(
        "off",
        _("Taking it off"),
        _("taking it off"),
        (
            _("Sit down and straighten the knee."),
            _("Open the upper strap, then the lower strap."),
            _("Pull the shell off to the front."),
        ),
        _("The straps are open. The shell comes off the leg to the front."),
    )
    return drawn(step, shell)


def drawn(step: Step, shell: Shell) -> Step:
    """The step with its drawing of this shell on this leg."""
    scene = scene_of(shell.entry, shell.result, shell.catalogue, purpose="guide", view="side")
    words = {
        "lower_strap": _("lower strap"),
        "upper_strap": _("upper strap"),
        "pull": _("pull"),
        "pad": _("foam pad"),
        "title": f"{seen_from(shell.side)} {step.shows}",
    }
    return replace(step, drawing=in_page(draw_step(step.key, scene, words)))


def seen_from(side: str) -> str:
    """Which leg a drawing shows."""
    return _("Left leg, seen from the outside.") if side == "left" else _("Right leg, seen from the outside.")


def is_powered(entry: dict) -> bool:
    """Whether the knee has a battery."""
    return entry["knee"]["control"] in POWERED


def sit() -> Step:
    return Step(
        "sit",
        _("Sit down"),
        _("sit down"),
        (
            _("Sit on a firm chair."),
            _("Put the foot flat on the floor."),
            _("Have the shell and both straps within reach."),
        ),
        _("The person sits on a chair, the foot flat on the floor."),
    )


def straighten(entry: dict) -> Step:
    off = _("Then switch the knee off, as your clinic showed you.")
    if not is_powered(entry):
        off = _("If a part of your leg has power, switch it off.")
    return Step(
        "straight",
        _("Knee straight, power off"),
        _("knee straight"),
        (
            _("Slide the foot forward until the knee is straight."),
            off,
            _("Keep the knee straight until both straps are closed."),
        ),
        _("The person sits. The foot has gone forward, and the leg is straight down to the heel."),
    )


def put_round(shell: Shell) -> Step:
    gap = length_words(shell.result["gap_mm"], shell.entry["units"])
    sentences = [
        _("Hold the shell in front of the leg and push it back round the leg."),
        _("Its top starts at the front of the knee, and {gap} stay open above the foot.").format(gap=gap),
        at_the_top(shell),
    ]
    return Step(
        "round",
        _("Shell round the leg"),
        _("shell round the leg"),
        tuple(sentence for sentence in sentences if sentence),
        _("The shell is held in front of the leg, its open side to the leg, and goes back."),
    )


def at_the_top(shell: Shell) -> str:
    """What tells the top: the pad, an edge that is cut down, both, or nothing."""
    pad, cut = bool(shell.result.get("foam_pad")), relief_mm(shell) > 0
    if pad and cut:
        return _("The low edge is the top front, and the foam pad sits just inside it.")
    if pad:
        return _("The foam pad sits inside the top, at the front.")
    return _("The edge that is cut down is the top, at the front.") if cut else ""


def relief_mm(shell: Shell) -> float:
    """How far the front of this shell's top is cut down. [mm]"""
    tops = {top["key"]: top["relief_mm"] for top in shell.catalogue["tops"]}
    return tops.get(shell.entry["shell"]["top"], 0)


def lower_strap(entry: dict) -> Step:
    where = _("Its buckle is on the outer side of the leg.")
    if entry["foot"]["profile"] == "high":
        where = _("It must lie above the moving part of the foot.")
    elif entry["shell"].get("buckle_side") == "inner":
        where = _("Its buckle is on the inner side of the leg.")
    return Step(
        "lower",
        _("Lower strap first"),
        _("lower strap"),
        (
            _("It carries the shell."),
            _("Pull until the shell no longer turns when you twist it by hand."),
            where,
        ),
        _("The lower strap is pulled to the rear."),
    )


def upper_strap() -> Step:
    return Step(
        "upper",
        _("Then the upper strap"),
        _("upper strap"),
        (
            _("It keeps the top close to the leg."),
            _("Pull until it lies snug."),
            _("It must lie below all that moves in the knee."),
        ),
        _("The lower strap is closed. The upper strap is pulled to the rear."),
    )


def loose_ends() -> Step:
    return Step(
        "ends",
        _("Tuck in the loose ends"),
        _("loose ends"),
        (
            _("Push each loose end in behind its own strap."),
            _("No end may hang near the knee or the ankle."),
        ),
        _("Both straps are closed. The end of the lower strap goes in behind it."),
    )


def first_steps(entry: dict) -> Step:
    on = _("Switch the knee on again.") if is_powered(entry) else _("Switch on again what you switched off.")
    return Step(
        "walk",
        _("First steps"),
        _("first steps"),
        (
            on,
            _("Stand up with a hand on something firm."),
            _("Walk a few steps: knee and foot must move as before."),
        ),
        _("The shell is on, both straps are closed. The leg steps forward beside a rail."),
    )


def length_words(mm: float, unit: str) -> str:
    """A length in whole mm, with the inches beside it for who measures in inches: "19 mm (3/4 in)"."""
    text = f"{digits(mm, 0)} mm"
    return f"{text} ({inches_text(Fraction(repr(mm)))} in)" if unit == "in" else text
