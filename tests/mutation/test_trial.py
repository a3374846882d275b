from types import SimpleNamespace

from tests.mutation.trial import LONG_SECONDS, Noticing

NAMES = ["a.py::long", "a.py::short", "b.py::about", "b.py::last"]


def report(name: str, failed: bool = False, duration: float = 0) -> SimpleNamespace:
    return SimpleNamespace(nodeid=name, failed=failed, duration=duration)


def test_what_noticed_the_last_change_comes_first_and_what_takes_long_last():
    noticing = Noticing()
    for told in (report("a.py::long", duration=2 * LONG_SECONDS), report("b.py::last", failed=True)):
        noticing.pytest_runtest_logreport(told)

    items = noticing.first([SimpleNamespace(nodeid=name) for name in NAMES], about="about")

    assert [item.nodeid for item in items] == ["b.py::last", "b.py::about", "a.py::short", "a.py::long"]
    assert noticing.first_stage([["a.py"], ["c.py", "b.py"]]) == [["c.py", "b.py"], ["a.py"]]


def test_everything_stays_in_its_order_as_long_as_nothing_is_known():
    noticing = Noticing()

    assert [item.nodeid for item in noticing.first([SimpleNamespace(nodeid=name) for name in NAMES])] == NAMES
    assert noticing.first_stage([["a.py"], ["b.py"]]) == [["a.py"], ["b.py"]]
