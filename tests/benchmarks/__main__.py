"""Runs benchmarks by name, and prints each figure with what it may come to. Never part of a test run.

    python -m tests.benchmarks                      all of them
    python -m tests.benchmarks reading surface      some

Exit 1 if a figure exceeds its limit; on a machine that is busy with other things, run it again alone.
"""

import importlib
import sys
from pathlib import Path

HERE = Path(__file__).parent
NOT_BENCHMARKS = {"__init__", "__main__", "timing"}


def names() -> list[str]:
    """The benchmarks there are: each module here that has `figures()`."""
    return sorted(path.stem for path in HERE.glob("*.py") if path.stem not in NOT_BENCHMARKS)


def main(asked: list[str]) -> int:
    """Runs them; 0 if every figure stays within its limit."""
    unknown = [name for name in asked if name not in names()]
    if unknown:
        print(f"no benchmark is called {unknown[0]}; there are: {', '.join(names())}", file=sys.stderr)
        return 2
    kept = True
    for name in asked or names():
        print(name, flush=True)
        for figure in importlib.import_module(f"tests.benchmarks.{name}").figures():
            print(figure, flush=True)
            kept = kept and figure.kept
    return 0 if kept else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
