"""Changes one subject's constants and comparisons, one at a time, and prints the changes that no test notices.

    python -m tests.mutation orders/reckoning/curve.py      a module of the reckoning
    python -m tests.mutation orders/rulebook/gap.toml       a file of the rule book
    python -m tests.mutation orders/rulebook/geometry.py    a module that reads or runs it
    python -m tests.mutation                                all of them

The last line of each subject says how many were tried. Exit 1 if a change is left that isn't among those with a reason,
or a reason stands for a change that is noticed.
"""

import ast
import os
import sys
import tomllib
from collections.abc import Iterator
from functools import partial
from pathlib import Path

from tests.mutation import trial
from tests.mutation.in_code import Change, changes_of

ROOT = Path(__file__).resolve().parent.parent.parent
LEFT = Path(__file__).with_name("left.toml")
BOOK = [
    "tests/orders/rulebook/test_limits.py",
    "tests/orders/rulebook/test_beside.py",
    "tests/orders/rulebook/test_checks.py",
    "tests/orders/rulebook/test_own_checks.py",
    "tests/orders/test_reckon.py",
]
# What runs the whole rule book, for its modules.
RUN_BY_BOOK = [
    "tests/orders/rulebook/test_book.py",
    "tests/orders/rulebook/test_own_checks.py",
    "tests/orders/rulebook/test_limits.py",
    "tests/orders/test_reckon.py",
    "tests/orders/rulebook/test_checks.py",
    "tests/orders/rulebook/test_beside.py",
]
# What a module's own test needs besides, where that is Django: it is set up for each change anew, which takes a second.
WITH = {"told": ["-p", "tests.surroundings", "-p", "pytest_django.plugin"]}
# Besides a module's own test, those that look through it from outside.
THROUGH = {
    "constants": [
        *("test_edges", "test_homography", "test_as_made", "test_unrolled", "test_outline", "test_trim"),
        *("test_uncertainty", "test_mass", "test_ranges", "test_typed"),
    ],
    "curve": ["test_outline"],
    "section": ["test_outline", "test_mass"],
    "shape": ["test_entry", "test_catalogue"],
    "outline": ["test_loft"],
    "loft": ["test_surface", "test_edges"],
    "edges": ["test_surface"],
    "typed_amount": ["test_typed"],
    "typed_scan": ["test_typed"],
    "typed_sentences": ["test_typed"],
    "typed_spoken": ["test_typed"],
    "units": ["test_typed"],
}


def subjects() -> list[str]:
    """What is changed unless something is asked for: the reckoning, and the rule book with what reads and runs it."""
    orders = ROOT / "orders"
    nothing = {"__init__.py", "sources.py", "book.toml"}
    paths = [
        *sorted((orders / "reckoning").glob("*.py")),
        *sorted((orders / "rulebook").glob("*.py")),
        *sorted((orders / "rulebook").glob("*.toml")),
    ]
    return [str(path.relative_to(ROOT)) for path in paths if path.name not in nothing]


def left_with_reasons() -> dict[str, dict[str, str]]:
    """Why changes may go unnoticed: the reason by the change, by the subject."""
    with LEFT.open("rb") as file:
        return tomllib.load(file)


def tried(subject: str) -> Iterator[tuple[str, bool]]:
    """Each change of a subject, and whether no test noticed it."""
    return (in_book if subject.endswith(".toml") else in_module)(subject)


def in_module(subject: str) -> Iterator[tuple[str, bool]]:
    """Each change of a module, and whether it went unnoticed."""
    path = ROOT / subject
    name = subject.removesuffix(".py").replace("/", ".")
    tree = ast.parse(path.read_text(encoding="utf-8"))

    def changed(change: Change) -> None:
        change.make()
        trial.swap(name, compile(tree, str(path), "exec"))

    noticing = trial.Noticing()
    if changes_of(tree):
        refuse_unless_green(stages_of(path), noticing)
    for change in changes_of(tree):
        yield change.key, trial.unnoticed(partial(changed, change), stages_of(path), noticing)


def refuse_unless_green(stages: list[list[str]], noticing: trial.Noticing) -> None:
    """Ends the run if the tests fail without any change: then every change would seem to be noticed."""
    for stage in stages:
        if not trial.unnoticed(lambda: None, [stage], noticing):
            sys.exit(f"without any change these fail: {' '.join(stage)}")


def stages_of(path: Path) -> list[list[str]]:
    """The tests that could notice a change of a module: its own, the ranges', those that look through it, all of it."""
    if path.parent.name != "reckoning":
        own = "tests/" + str(path.relative_to(ROOT).with_name(f"test_{path.name}"))
        there = [name for name in (own, *RUN_BY_BOOK) if (ROOT / name).exists()]
        return [[*WITH.get(path.stem, []), name] if name == own else [name] for name in there]
    names = [
        f"tests/orders/reckoning/{test}.py"
        for test in (f"test_{path.stem}", "test_range_ends", *THROUGH.get(path.stem, []))
    ]
    there = [name for name in names if (ROOT / name).exists()]
    return [*([name] for name in there), ["tests/orders/test_reckon.py"]]


def in_book(subject: str) -> Iterator[tuple[str, bool]]:
    """Each change of a file of the rule book, and whether it went unnoticed.

    The book is loaded once, and each child changes its own copy of it.
    """
    changes = book_changes(subject)
    abouts = [change.key.split(":")[0].split(" ")[0] for change in changes]
    made = [("", lambda: None), *zip(abouts, [change.make for change in changes], strict=True)]
    green, *left = trial.Loaded(BOOK).unnoticed(made)
    if not green:
        sys.exit(f"without any change these fail: {' '.join(BOOK)}")
    yield from zip([change.key for change in changes], left, strict=True)


def book_changes(subject: str) -> list[Change]:
    """The changes of the book's entries that stand in this file."""
    from tests.mutation import in_book as of_book  # loads the reckoning

    if Path(subject).stem == "givens":
        return of_book.changes_of_givens()
    content = tomllib.loads((ROOT / subject).read_text(encoding="utf-8"))
    return of_book.changes_of(
        {entry["id"] for kind in ("figure", "check") for entry in content.get(kind, [])}
    )


def report(subject: str) -> bool:
    """Prints what is left of one subject as it is found.

    Whether every change is noticed or has its reason, and no reason is stale.
    """
    known = left_with_reasons().get(subject, {})
    number, left = 0, []
    for key, was_left in tried(subject):
        number += 1
        if was_left:
            left.append(key)
            print(f"{subject}: {key}" + (f"  [left: {known[key]}]" if key in known else ""), flush=True)
    stale = [key for key in known if key not in left]
    for key in stale:
        print(f"{subject}: {key}  [noticed, or no longer there: its reason is stale]", flush=True)
    print(f"{subject}: {number} changes, {len(left)} left, {len(known)} with a reason", flush=True)
    return not stale and all(key in known for key in left)


if __name__ == "__main__":
    os.chdir(ROOT)
    trial.prepare()
    # each in a process of its own: a module must be changed before it is loaded
    asked = sys.argv[1:] or subjects()
    wrong = [subject for subject in asked if not trial.in_child(lambda subject=subject: report(subject))]
    sys.exit(1 if wrong else 0)
