"""Runs tests against one change, each in a forked child of its own, so that a change leaves nothing behind."""

import importlib
import importlib.abc
import importlib.util
import os
import resource
import sys
from collections.abc import Callable, Sequence

import pytest

# What the tests load besides the project: once, before the children are forked.
HEAVY = (
    "cel",
    "django.utils.translation",
    "hypothesis",
    "jsonschema",
    "numpy",
    "pint",
    "playwright.sync_api",
    "scipy.interpolate",
    "scipy.optimize",
    "scipy.special",
    "shapely",
    "trimesh",
    "uncertainties",
)
# The tests' own settings and no plugins: these tests need neither Django nor a browser, and randomness would make one
# run notice what the next one does not.
OPTIONS = ("-x", "-q", "-o", "addopts=", "-p", "no:cacheprovider", "-m", "not browser and not long")
# A change may make a loop endless, or a list enormous: the child is then ended, and the change counts as noticed.
MOST_SECONDS = 40
MOST_BYTES = 3 * 1024**3


def prepare() -> None:
    """Loads what all children share."""
    os.environ["PYTEST_DISABLE_PLUGIN_AUTOLOAD"] = "1"
    for name in HEAVY:
        importlib.import_module(name)
    from hypothesis import settings

    settings.register_profile("mutation", derandomize=True, database=None, deadline=None)
    settings.load_profile("mutation")


class _Swapped(importlib.abc.MetaPathFinder, importlib.abc.Loader):
    """Loads one module from changed code."""

    def __init__(self, name: str, code) -> None:
        self.name, self.code = name, code

    def find_spec(self, name, path, target=None):
        return importlib.util.spec_from_loader(name, self) if name == self.name else None

    def exec_module(self, module) -> None:
        exec(self.code, module.__dict__)


def swap(name: str, code) -> None:
    """From now on the module `name`, not loaded yet, is this code."""
    if name in sys.modules:
        raise RuntimeError(f"{name} was loaded before it was changed")
    sys.meta_path.insert(0, _Swapped(name, code))


def unnoticed(change: Callable[[], None], stages: Sequence[Sequence[str]]) -> bool:
    """Whether all tests pass with the change made.

    Parameters
    ----------
    change
        Makes the change; called in the child.
    stages
        Test files, those first that would most likely notice.
    """
    child = os.fork()
    if child:
        return _waited(child)
    try:
        _quieten()
        change()
        passed = all(pytest.main([*OPTIONS, *stage]) == 0 for stage in stages)
    except BaseException:  # what can't even be loaded is noticed
        passed = False
    os._exit(0 if passed else 1)


def _quieten() -> None:
    resource.setrlimit(resource.RLIMIT_AS, (MOST_BYTES, MOST_BYTES))
    resource.setrlimit(resource.RLIMIT_CPU, (MOST_SECONDS, MOST_SECONDS))
    nowhere = os.open(os.devnull, os.O_WRONLY)
    for stream in (1, 2):
        os.dup2(nowhere, stream)


def _waited(child: int) -> bool:
    """Whether the child found all tests passing."""
    _, status = os.waitpid(child, 0)
    return os.waitstatus_to_exitcode(status) == 0
