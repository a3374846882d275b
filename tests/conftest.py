"""What several folders of tests share: the people of the tests, and how the whole run is judged."""

import os
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

pytest_plugins = ["tests.twins"]

PAGE_FIXTURES = {"js", "twins_page"}  # a page of its own, nothing served
SITE_FIXTURES = {"page", "browser", "context", "site"}


def pytest_addoption(parser):
    parser.addoption("--long", action="store_true", help="also run what takes long")
    parser.addoption("--floor", type=int, default=0, help="fail when fewer tests than this were run")


@pytest.hookimpl(tryfirst=True)  # xdist reads the groups in the same hook
def pytest_collection_modifyitems(config, items):
    """Browser tests share a process and its Chromium, those with a served site another; long ones only on demand."""
    for item in items:
        needs = set(item.fixturenames)
        if needs & (PAGE_FIXTURES | SITE_FIXTURES):
            item.add_marker(pytest.mark.browser)
            item.add_marker(pytest.mark.xdist_group("site" if needs & SITE_FIXTURES else "page"))
            item.add_marker(pytest.mark.flaky(reruns=1))  # told in the closing line, and to be looked into
    if not config.getoption("--long"):
        long = [item for item in items if item.get_closest_marker("long")]
        items[:] = [item for item in items if item not in long]
        config.hook.pytest_deselected(items=long)


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(item, call):
    """A skip counts as a failure: a test that did not run has shown nothing."""
    report = yield
    if report.skipped and not hasattr(report, "wasxfail"):
        report.outcome = "failed"
        report.longrepr = f"skipped, which counts as a failure here: {report.longrepr}"
    return report


def pytest_sessionfinish(session, exitstatus):
    floor = session.config.getoption("--floor")
    reporter = session.config.pluginmanager.get_plugin("terminalreporter")
    if floor and reporter and not hasattr(session.config, "workerinput"):
        ran = len(reporter.stats.get("passed", [])) + len(reporter.stats.get("failed", []))
        if ran < floor:
            reporter.write_line(f"only {ran} tests ran, {floor} are expected at least")
            session.exitstatus = pytest.ExitCode.TESTS_FAILED


@pytest.fixture
def clinician(db):
    """A clinician of one clinic."""
    from tests import factories  # needs Django's apps, which pytest-django sets up after this file is read

    return factories.member("clinician", factories.clinic("Hillside Limb Clinic"))


@pytest.fixture
def lead(clinician):
    """The lead of the same clinic."""
    from tests import factories

    return factories.member("lead", clinician.organisation)


@pytest.fixture
def other_clinician(db):
    """A clinician of another clinic."""
    from tests import factories

    return factories.member("clinician", factories.clinic("Lowland Limb Clinic"))


@pytest.fixture
def fabricator(db):
    """A fabricator of one workshop, which has a catalogue."""
    from tests import factories

    return factories.member("fabricator", factories.workshop("Mill Lane Forming"))


@pytest.fixture
def other_fabricator(db):
    """A fabricator of another workshop."""
    from tests import factories

    return factories.member("fabricator", factories.workshop("Harbour Forming"))


@pytest.fixture
def client_for():
    """A signed-in test client for a member; for None, a stranger's."""
    from django.test import Client

    def signed_in(member=None, **options):
        client = Client(**options)
        if member:
            client.force_login(member.user)
        return client

    return signed_in


@pytest.fixture(scope="session")
def browser_type_launch_args(browser_type_launch_args):
    """Debian's Chromium for pytest-playwright's `page` and `browser`."""
    from tests.twins import CHROMIUM, CHROMIUM_ARGS

    return {**browser_type_launch_args, "executable_path": CHROMIUM, "args": list(CHROMIUM_ARGS)}


@pytest.fixture(scope="session")
def built_pages():
    """The phone's page, as the build writes it."""
    from project import build

    build.write_pages()


@pytest.fixture(scope="session")
def demo_folder(tmp_path_factory) -> Callable[[str], Path]:
    """Gives folders for sites of their own to be served from (SHANKLINE_VAR), with the demo's world in each.

    The world is loaded once and copied, which takes a moment instead of many seconds.
    """
    root, made = Path(__file__).resolve().parent.parent, tmp_path_factory.mktemp("demo")
    surroundings = {**os.environ, "SHANKLINE_DEMO": "1", "SHANKLINE_VAR": str(made)}
    command = [sys.executable, "manage.py", "demo", "--no-serve"]
    subprocess.run(command, cwd=root, env=surroundings, check=True, capture_output=True)

    def folder(name: str) -> Path:
        place = tmp_path_factory.mktemp(name)
        shutil.copytree(made, place, dirs_exist_ok=True)
        return place

    return folder
