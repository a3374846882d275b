"""Times as ratios of one run: both sides take turns, so that whatever else the machine does slows both."""

import statistics
import time
from collections.abc import Callable
from dataclasses import dataclass


@dataclass(frozen=True)
class Figure:
    """One line of a benchmark.

    Attributes
    ----------
    what : str
        What was timed, and against what.
    value : float
        In `unit`; a ratio where that is "×".
    unit : str
        "×", "ms", "kB", "MB", "s", or "" for a count.
    most : float or None
        What it may come to; None where it only is told.
    """

    what: str
    value: float
    unit: str
    most: float | None = None

    @property
    def kept(self) -> bool:
        """Whether it stays within what it may come to."""
        return self.most is None or self.value <= self.most

    def __str__(self) -> str:
        limit = "" if self.most is None else f"  at most {self.most:g} {self.unit}"
        return f"{self.value:9.3f} {self.unit:2}  {self.what}{limit}{'' if self.kept else '  EXCEEDED'}"


def seconds(act: Callable[[], object], times: int = 1) -> float:
    """How long one call takes, the mean of so many."""
    begun = time.perf_counter()
    for _ in range(times):
        act()
    return (time.perf_counter() - begun) / times


def ratio(ours: Callable[[], object], theirs: Callable[[], object], rounds: int = 15) -> float:
    """How many times as long ours takes: the median of rounds in which both take turns, after one that warms up."""
    ours(), theirs()
    return statistics.median(seconds(ours) / seconds(theirs) for _ in range(rounds))


def typical_ms(act: Callable[[], object], rounds: int = 15) -> float:
    """How long it takes as a rule: the median, after one call that warms up. [ms]"""
    act()
    return statistics.median(seconds(act) for _ in range(rounds)) * 1000
