"""Runs benchmarks by name, and prints each figure with what it may come to. Never part of a test run.

    python -m tests.benchmarks                      all of them
    python -m tests.benchmarks reading surface      some

Exit 1 if a figure exceeds its limit; on a machine that is busy with other things, run it again alone.
"""

import importlib
import subprocess
import sys
from pathlib import Path

HERE = Path(__file__).parent
NOT_BENCHMARKS = {"__init__", "__main__", "served", "timing"}


def names() -> list[str]:
    """The benchmarks there are: each module here that has `figures()`."""
    return sorted(path.stem for path in HERE.glob("*.py") if path.stem not in NOT_BENCHMARKS)


def main(asked: list[str]) -> int:
    """Runs them; 0 if every figure stays within its limit."""
    unknown = [name for name in asked if name not in names()]
    if unknown:
        print(f"no benchmark is called {unknown[0]}; there are: {', '.join(names())}", file=sys.stderr)
        return 2
    wanted = asked or names()
    if len(wanted) > 1:  # each in a process of its own, since each chooses Django's settings for itself
        command = [sys.executable, "-m", "tests.benchmarks"]
        return max(subprocess.run([*command, name]).returncode for name in wanted)
    kept = True
    print(wanted[0], flush=True)
    for figure in importlib.import_module(f"tests.benchmarks.{wanted[0]}").figures():
        print(figure, flush=True)
        kept = kept and figure.kept
    return 0 if kept else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
