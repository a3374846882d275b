"""The demo's command, as a process of its own."""

import os
import socket
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[4]


def demo(var: Path, *arguments: str) -> subprocess.CompletedProcess:
    surroundings = {**os.environ, "SHANKLINE_VAR": str(var)}
    del surroundings["SHANKLINE_DEMO"]
    command = [sys.executable, "manage.py", "demo", *arguments]
    return subprocess.run(command, cwd=ROOT, env=surroundings, capture_output=True, text=True)


@pytest.mark.timeout(900)  # a whole world, on a machine that may be busy
def test_the_demo_is_made_once_and_again(tmp_path):
    first, second = demo(tmp_path, "--no-serve"), demo(tmp_path, "--no-serve")

    assert (first.returncode, second.returncode) == (0, 0), first.stderr + second.stderr
    assert (tmp_path / "shankline.sqlite3").is_file()


def test_a_taken_port_is_one_line_with_what_to_do(tmp_path):
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]

        said = demo(tmp_path, "--port", str(port))

    assert said.returncode == 1
    assert said.stderr.strip() == f"CommandError: port {port} is taken; try --port {port + 1}"


@pytest.mark.django_db
def test_the_demos_accounts_are_not_loaded_elsewhere(settings):
    from django.core.management import CommandError, call_command

    settings.DEMO = False

    with pytest.raises(CommandError, match="known passwords"):
        call_command("load_demo")
