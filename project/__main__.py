"""The two commands of a fresh clone: `python3 -m project demo` and `python3 -m project test`.

Standard library only: this runs before anything is installed. It makes the environment, then execs into it.
"""

import os
import sys

from project import environment

USAGE = """python3 -m project demo [--port N]     set up, load the demo world, serve it
python3 -m project test [--long] [...] set up and run every test (the rest goes to pytest)
python3 -m project setup               stop after the set-up"""


def main(arguments: list[str]) -> int:
    """Set up, then hand over to the command; 0, or what it ended with."""
    command, rest = (arguments[0], arguments[1:]) if arguments else ("", [])
    if command not in {"demo", "test", "setup"}:
        print(USAGE)
        return 0 if command in {"", "help", "--help", "-h"} else 2
    try:
        python = environment.prepare(for_tests=command != "demo")
    except environment.SetUpFailed as failure:
        print(f"shankline: {failure}", file=sys.stderr)
        return 1
    if command == "setup":
        print("shankline: ready")
        return 0
    os.chdir(environment.ROOT)
    script = ["manage.py", "demo"] if command == "demo" else ["-m", "tests"]
    os.execv(python, [str(python), *script, *rest])


if __name__ == "__main__":
    try:
        sys.exit(main(sys.argv[1:]))
    except KeyboardInterrupt:
        sys.exit(130)
