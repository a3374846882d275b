"""The few sentences that the book's code says itself. Twin: `strings` in static/js/book/strings.js."""

from orders.reckoning.language import noop

STRINGS = {
    "yes": noop("yes"),
    "no": noop("no"),
    "and": noop("{first} and {last}"),
    "follows": noop("{taken} taken, {gap} left open: made {made} long"),
    "rounded_down": noop("{taken} taken, {gap} left open: made {made} long, rounded down"),
    "not_nought": noop("This can't be 0: leave it empty where there is nothing to measure."),
    "too_long": noop("Nothing on a leg is that long."),
    "not_within": noop("“{shown}” was read; a number from {least} to {most} was expected."),
}
