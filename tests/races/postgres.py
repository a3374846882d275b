"""A throw-away PostgreSQL cluster for one test session, as whoever may run one."""

import os
import pwd
import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path


def programs() -> Path:
    """The folder of initdb and pg_ctl, newest version first."""
    found = sorted(Path("/usr/lib/postgresql").glob("*/bin/initdb"), key=lambda file: -float(file.parts[4]))
    there = found[0] if found else Path(shutil.which("initdb") or "")
    if not there.name:
        raise FileNotFoundError("PostgreSQL's programs are missing; `python3 -m project setup` installs them")
    return there.parent


@contextmanager
def cluster() -> Iterator[str]:
    """A running cluster that listens on a socket in its own folder; yields the address of an empty database."""
    home = Path(tempfile.mkdtemp(prefix="shankline-pg-"))
    # PostgreSQL refuses to run as root, where Debian's package has made a user for it.
    user = {"user": "postgres"} if os.geteuid() == 0 else {}
    if user:
        os.chown(home, pwd.getpwnam("postgres").pw_uid, -1)
    data, ctl = home / "data", str(programs() / "pg_ctl")

    def run(*command: str) -> None:
        subprocess.run(
            command, check=True, cwd=home, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, **user
        )

    try:
        run(
            str(programs() / "initdb"),
            "-D",
            str(data),
            "-U",
            "tests",
            "--auth=trust",
            "-E",
            "UTF8",
            "--no-sync",
        )
        run(
            ctl,
            "-D",
            str(data),
            "-w",
            "-l",
            str(home / "log"),
            "-o",
            f"-k {home} -c listen_addresses= -F",
            "start",
        )
        yield f"postgresql://tests@{str(home).replace('/', '%2F')}/postgres"
    finally:
        subprocess.run(
            [ctl, "-D", str(data), "-m", "immediate", "stop"], cwd=home, capture_output=True, **user
        )
        shutil.rmtree(home, ignore_errors=True)
