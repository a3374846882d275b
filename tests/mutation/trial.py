"""Runs tests against one change, each in a forked child of its own, so that a change leaves nothing behind."""

import gc
import importlib
import importlib.abc
import importlib.util
import os
import resource
import sys
from collections.abc import Callable, Sequence
from contextlib import redirect_stdout
from functools import partial
from mmap import mmap
from tempfile import TemporaryFile

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
# run notice what the next one does not. Plain asserts: nobody reads what a child says.
OPTIONS = (
    *("-x", "-q", "--assert=plain", "-o", "addopts=", "-m", "not browser and not long"),
    *("-p", "no:cacheprovider", "-p", "no:unraisableexception", "-p", "no:threadexception"),
)
# A change may make a loop endless, or a list enormous: the child is then ended, and the change counts as noticed. The
# seconds are a single test's, of the processor's time.
MOST_SECONDS = 40
LONG_SECONDS = 0.3
MOST_BYTES = 3 * 1024**3


def prepare() -> None:
    """Loads what all children share."""
    os.environ["PYTEST_DISABLE_PLUGIN_AUTOLOAD"] = "1"
    for name in HEAVY:
        importlib.import_module(name)
    from hypothesis import settings

    settings.register_profile("mutation", derandomize=True, database=None, deadline=None)
    settings.load_profile("mutation")
    gc.freeze()  # what all share needn't be looked through in each child


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


class Noticing:
    """A pytest plugin that tries first what noticed the last change: neighbours are mostly noticed by the same test.

    What takes long is tried last.
    """

    def __init__(self) -> None:
        # its name, written by the child in which it failed
        self._last = mmap(-1, 1024)
        # a line for each, by the child in which it first took long; all children's, so open until the end
        self._long = TemporaryFile("w+", encoding="utf-8")  # noqa: SIM115

    def first(self, items: list[pytest.Item], about: str = "") -> list[pytest.Item]:
        """The tests in the order in which to try them: after the last one those with this in their names."""
        last, long = self._noticed(), self._take_long()
        return sorted(
            items, key=lambda item: (item.nodeid != last, about not in item.nodeid, item.nodeid in long)
        )

    def first_stage(self, stages: Sequence[Sequence[str]]) -> list[Sequence[str]]:
        """The stages in their order, after the one in which the last change was noticed."""
        last = self._noticed().partition("::")[0]
        return sorted(stages, key=lambda stage: last not in stage)

    def _noticed(self) -> str:
        return self._last[:].rstrip(b"\0").decode()

    def _take_long(self) -> set[str]:
        self._long.seek(0)
        return set(self._long.read().splitlines())

    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        items[:] = self.first(items)

    def pytest_runtest_logstart(self) -> None:
        _allow_seconds()

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        if report.failed:
            self._last[:] = report.nodeid.encode()[: len(self._last)].ljust(len(self._last), b"\0")
        elif report.duration > LONG_SECONDS and report.nodeid not in self._take_long():
            print(report.nodeid, file=self._long, flush=True)


def unnoticed(change: Callable[[], None], stages: Sequence[Sequence[str]], noticing: Noticing) -> bool:
    """Whether all tests pass with the change made before any of them is loaded.

    Parameters
    ----------
    change
        Makes the change; called in the child.
    stages
        Test files, those first that would most likely notice.
    noticing
        The same one for changes next to each other.
    """

    def passes() -> bool:
        _quieten()
        change()
        return all(pytest.main([*OPTIONS, *stage], [noticing]) == 0 for stage in noticing.first_stage(stages))

    return in_child(passes)


class Loaded(Noticing):
    """Tests loaded once, for changes of what they look up anew whenever they run, as the loaded book is.

    Parameters
    ----------
    files
        Test files, those first that would most likely notice.
    """

    def __init__(self, files: Sequence[str]) -> None:
        super().__init__()
        self._files = files
        self._changes: Sequence[tuple[str, Callable[[], None]]] = ()
        self._found: list[bool] = []

    def unnoticed(self, changes: Sequence[tuple[str, Callable[[], None]]]) -> list[bool]:
        """Of each change, after what it is in, whether all tests pass with it made."""
        self._changes, self._found = changes, []
        with open(os.devnull, "w") as nowhere, redirect_stdout(nowhere):
            pytest.main([*OPTIONS, *self._files], [self])
        return self._found

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        """Instead of running the tests once."""
        gc.freeze()
        for about, change in self._changes:
            items = self.first(session.items, about)
            self._found.append(in_child(partial(_passes, session, items, change)))
        return True


def _passes(session: pytest.Session, items: list[pytest.Item], change: Callable[[], None]) -> bool:
    """Whether the items pass in this order with the change made."""
    _quieten()
    change()
    for item, after in zip(items, [*items[1:], None], strict=True):
        item.config.hook.pytest_runtest_protocol(item=item, nextitem=after)
        if session.testsfailed:
            return False
    return bool(items)


def in_child(function: Callable[[], bool]) -> bool:
    """What the function says in a forked child; no, where it can't even end."""
    child = os.fork()
    if child:
        _, status = os.waitpid(child, 0)
        return os.waitstatus_to_exitcode(status) == 0
    try:
        said = function()
    except BaseException as error:
        if isinstance(error, SystemExit) and isinstance(error.code, str):
            print(error.code, file=sys.stderr, flush=True)
        said = False
    os._exit(0 if said else 1)


def _quieten() -> None:
    resource.setrlimit(resource.RLIMIT_AS, (MOST_BYTES, MOST_BYTES))
    _allow_seconds()
    nowhere = os.open(os.devnull, os.O_WRONLY)
    for stream in (1, 2):
        os.dup2(nowhere, stream)


def _allow_seconds() -> None:
    """Lets this process go on for as long as a single test may take."""
    used = resource.getrusage(resource.RUSAGE_SELF)
    most = int(used.ru_utime + used.ru_stime) + MOST_SECONDS
    resource.setrlimit(resource.RLIMIT_CPU, (most, resource.RLIM_INFINITY))
