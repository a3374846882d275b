"""The whole run, as `python3 -m project test` starts it: two groups of browser tests, each in a process, the rest beside.

A browser test waits most of its time, so three processes keep two cores busy where two left them idle.
"""

import sys

import pytest

FLOOR = 8700  # raised with the suite: fewer than this means that some silently fell out

if __name__ == "__main__":
    arguments = sys.argv[1:]
    asked = [argument for argument in arguments if not argument.startswith("-")]
    floor = [] if asked else [f"--floor={FLOOR}"]
    sys.exit(pytest.main(["-n", "3", "--dist", "loadgroup", *floor, *arguments]))
