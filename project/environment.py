"""Makes `.venv` and the few system packages it needs. Standard library only: it runs before anything is installed."""

import ctypes.util
import fcntl
import hashlib
import importlib.util
import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
VENV = ROOT / ".venv"
READY = (
    VENV / "ready"
)  # holds the fingerprint of what was installed; written last, so a half-made one lacks it

# Debian's package: whether what it brings is there. Asked by what it brings, not by its name, so that another
# system or another Python counts as well.
RUNNING = {
    "python3-venv": lambda: importlib.util.find_spec("ensurepip") is not None,
    "libpango-1.0-0": lambda: ctypes.util.find_library("pango-1.0") is not None,
    "libpangoft2-1.0-0": lambda: ctypes.util.find_library("pangoft2-1.0") is not None,
    "libharfbuzz-subset0": lambda: ctypes.util.find_library("harfbuzz-subset") is not None,
}
TESTING = {
    "libatomic1": lambda: ctypes.util.find_library("atomic") is not None,
    "chromium-headless-shell": lambda: shutil.which("chromium-headless-shell") is not None,
    "postgresql": lambda: (
        any(Path("/usr/lib/postgresql").glob("*/bin/initdb")) or bool(shutil.which("initdb"))
    ),
}


class SetUpFailed(Exception):
    """What could not be set up, and what to do about it, in one line."""


def prepare(for_tests: bool) -> Path:
    """The environment's Python, made or mended first where needed. Raises SetUpFailed."""
    if sys.version_info < (3, 11):  # noqa: UP036  an older one gets here, and deserves a sentence
        raise SetUpFailed(f"Python 3.11 or newer is needed, this is {sys.version.split()[0]}")
    with one_at_a_time():
        system_packages({**RUNNING, **TESTING} if for_tests else RUNNING)
        if not READY.exists() or READY.read_text() != fingerprint():
            make_venv()
    return VENV / "bin" / "python"


@contextmanager
def one_at_a_time() -> Iterator[None]:
    """Holds a file lock, so that two set-ups at once take turns instead of treading on each other."""
    with open(ROOT / ".setup.lock", "w") as lock:
        try:
            fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            print("shankline: another set-up is at work here, waiting for it", flush=True)
            fcntl.flock(lock, fcntl.LOCK_EX)
        yield


def fingerprint() -> str:
    """Changes whenever what `.venv` should hold does."""
    sources = [(ROOT / name).read_bytes() for name in ("pyproject.toml", "constraints.txt")]
    return hashlib.sha256(
        b"\0".join([*sources, str(sys.version_info[:3]).encode(), str(ROOT).encode()])
    ).hexdigest()


def system_packages(wanted: dict) -> None:
    """Installs the missing ones where it may (as root, with apt-get), or raises with the one line to run."""
    missing = [name for name, there in wanted.items() if not there()]
    if not missing:
        return
    line = "apt-get install -y --no-install-recommends " + " ".join(missing)
    if os.geteuid() != 0:
        raise SetUpFailed(f"system packages are missing. Run: sudo apt-get update && sudo {line}")
    if shutil.which("apt-get") is None:
        raise SetUpFailed(f"install what Debian calls {', '.join(missing)}, then run this again")
    print(f"shankline: installing system packages: {', '.join(missing)}", flush=True)
    quietly(["apt-get", "update", "-q"], "apt-get update failed: is this machine online?")
    quietly(line.split(), f"could not install system packages. Run: {line}")
    still = [name for name in missing if not wanted[name]()]
    if still:
        raise SetUpFailed(f"installed, but not found afterwards: {', '.join(still)}. Run: {line}")


def make_venv() -> None:
    """A new `.venv` from the pins; an older or half-made one goes first."""
    print("shankline: making .venv and installing the pinned dependencies (a minute or two)", flush=True)
    shutil.rmtree(VENV, ignore_errors=True)
    quietly(
        [sys.executable, "-m", "venv", str(VENV)],
        "could not make .venv: is the disk full, or python3-venv missing?",
    )
    pip = [str(VENV / "bin" / "python"), "-m", "pip", "install", "--disable-pip-version-check"]
    quietly(
        [*pip, "-c", "constraints.txt", "-e", ".[test]"],
        "could not install the dependencies: is this machine online?",
    )
    READY.write_text(fingerprint())


def quietly(command: list[str], otherwise: str) -> None:
    """Runs a command, keeping its words for `var/setup.log`; raises SetUpFailed(otherwise) when it fails."""
    log = ROOT / "var" / "setup.log"
    log.parent.mkdir(exist_ok=True)
    surroundings = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    with open(log, "w") as out:
        done = subprocess.run(
            command, cwd=ROOT, stdin=subprocess.DEVNULL, stdout=out, stderr=out, env=surroundings
        )
    if done.returncode:
        raise SetUpFailed(f"{otherwise} Its own words are in var/setup.log")
