"""A typed reading, against the string parser of the library that does our unit conversion (Pint).

Both turn a text into millimetres; only texts that Pint reads right are asked of it ("16 1/2 in" is 8 in to it). Ours
besides says in words what was understood.
"""

import random
from collections.abc import Iterator

import pint

from orders.reckoning.typed import read_length
from tests.benchmarks.timing import Figure, ratio

SEED, COUNT = 20261125, 400


def texts() -> list[str]:
    """Readings of a tape as both take them, in all three units, at random from a seed."""
    print(f"  seed {SEED}")
    dice = random.Random(SEED)
    made = []
    for _ in range(COUNT):
        tenths_mm = dice.randint(500, 6000)
        made.append(
            dice.choice(
                [
                    f"{tenths_mm // 10} mm",
                    f"{tenths_mm / 10} mm",
                    f"{tenths_mm / 100:.1f} cm",
                    f"{tenths_mm / 254:.2f} in",
                ]
            )
        )
    return made


def figures() -> Iterator[Figure]:
    """Yields them as they are measured."""
    typed, units = texts(), pint.UnitRegistry()
    value = ratio(
        lambda: [read_length(text, "mm").mm for text in typed],
        lambda: [units.Quantity(text).to("mm").magnitude for text in typed],
    )
    yield Figure("reading a length, against Pint's parser and conversion", value, "×", 0.1)
    value = ratio(
        lambda: [read_length(text, "mm") for text in typed],
        lambda: [units.parse_expression(text) for text in typed],
    )
    yield Figure("reading a length, against Pint's parser alone", value, "×", 0.1)
