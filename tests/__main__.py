"""The whole run, as `python3 -m project test` starts it: browser tests in one process, the rest beside them."""

import sys

import pytest

FLOOR = 8000  # raised with the suite: fewer than this means that some silently fell out

if __name__ == "__main__":
    arguments = sys.argv[1:]
    asked = [argument for argument in arguments if not argument.startswith("-")]
    floor = [] if asked else [f"--floor={FLOOR}"]
    sys.exit(pytest.main(["-n", "2", "--dist", "loadgroup", *floor, *arguments]))
