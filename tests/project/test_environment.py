import subprocess
import sys
import threading
import time

import pytest

from project import environment


@pytest.fixture
def elsewhere(tmp_path, monkeypatch):
    """The module at work in an empty folder."""
    (tmp_path / "pyproject.toml").write_text("[project]\n")
    (tmp_path / "constraints.txt").write_text("")
    monkeypatch.setattr(environment, "ROOT", tmp_path)
    monkeypatch.setattr(environment, "VENV", tmp_path / ".venv")
    monkeypatch.setattr(environment, "READY", tmp_path / ".venv" / "ready")
    return tmp_path


def test_missing_packages_are_told_in_one_line_to_who_may_not_install(monkeypatch):
    monkeypatch.setattr(environment.os, "geteuid", lambda: 1000)

    with pytest.raises(environment.SetUpFailed) as failure:
        environment.system_packages({"libsomething0": lambda: False, "present": lambda: True})

    line = "sudo apt-get update && sudo apt-get install -y --no-install-recommends libsomething0"
    assert str(failure.value) == f"system packages are missing. Run: {line}"


def test_root_has_missing_packages_installed(monkeypatch):
    ran = []
    there = {"it": False}
    monkeypatch.setattr(environment.os, "geteuid", lambda: 0)
    monkeypatch.setattr(environment.shutil, "which", lambda name: f"/usr/bin/{name}")

    def install(command, otherwise):
        ran.append(command)
        there["it"] = command[1] == "install"

    monkeypatch.setattr(environment, "quietly", install)

    environment.system_packages({"libsomething0": lambda: there["it"]})

    assert [command[:2] for command in ran] == [["apt-get", "update"], ["apt-get", "install"]]
    assert ran[1][-1] == "libsomething0"


def test_what_is_still_missing_after_the_installation_is_told(monkeypatch):
    monkeypatch.setattr(environment.os, "geteuid", lambda: 0)
    monkeypatch.setattr(environment.shutil, "which", lambda name: f"/usr/bin/{name}")
    monkeypatch.setattr(environment, "quietly", lambda command, otherwise: None)

    with pytest.raises(environment.SetUpFailed, match="not found afterwards: libsomething0"):
        environment.system_packages({"libsomething0": lambda: False})


def test_a_half_made_environment_is_made_anew(elsewhere, monkeypatch):
    made = []
    monkeypatch.setattr(environment, "RUNNING", {})
    monkeypatch.setattr(environment, "make_venv", lambda: made.append(1))
    (elsewhere / ".venv").mkdir()

    environment.prepare(for_tests=False)
    assert made == [1]

    environment.READY.write_text("the pins of last month")
    environment.prepare(for_tests=False)
    assert made == [1, 1]

    environment.READY.write_text(environment.fingerprint())
    environment.prepare(for_tests=False)
    assert made == [1, 1]


def test_a_failing_command_is_one_sentence_and_its_words_are_kept(elsewhere):
    with pytest.raises(environment.SetUpFailed, match=r"could not\. Its own words are in var/setup\.log"):
        environment.quietly(
            [sys.executable, "-c", "print('what went wrong'); raise SystemExit(3)"], "could not."
        )

    assert "what went wrong" in (elsewhere / "var" / "setup.log").read_text()


def test_two_set_ups_take_turns(elsewhere, capsys):
    order = []

    def second():
        with environment.one_at_a_time():
            order.append("second")

    with environment.one_at_a_time():
        waiting = threading.Thread(target=second)
        waiting.start()
        time.sleep(0.2)
        order.append("first")
    waiting.join(timeout=5)

    assert order == ["first", "second"]
    assert "another set-up is at work here" in capsys.readouterr().out


def test_the_command_without_words_says_what_there_is():
    said = subprocess.run(
        [sys.executable, "-m", "project"], cwd=environment.ROOT, capture_output=True, text=True
    )

    assert said.returncode == 0
    assert "python3 -m project demo" in said.stdout

    wrong = subprocess.run(
        [sys.executable, "-m", "project", "dmeo"], cwd=environment.ROOT, capture_output=True, text=True
    )
    assert wrong.returncode == 2


def test_the_set_up_imports_nothing_that_must_be_installed_first():
    code = (
        "import sys, project.environment, project.__main__; print([m for m in sys.modules if 'django' in m])"
    )
    said = subprocess.run(
        [sys.executable, "-S", "-c", code], cwd=environment.ROOT, capture_output=True, text=True
    )

    assert (said.stdout.strip(), said.stderr) == ("[]", "")
