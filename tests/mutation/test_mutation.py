"""No constant and no comparison of the reckoning or the rule book can change unnoticed, or left.toml says why it may."""

import subprocess
import sys
from pathlib import Path

import pytest

from tests.mutation.__main__ import left_with_reasons, subjects

ROOT = Path(__file__).resolve().parent.parent.parent


@pytest.mark.long
@pytest.mark.timeout(3600)
@pytest.mark.parametrize("subject", subjects())
def test_no_change_goes_unnoticed(subject):
    # a process of its own: changed modules must not have been loaded before
    done = subprocess.run(
        [sys.executable, "-m", "tests.mutation", subject], cwd=ROOT, capture_output=True, text=True
    )

    assert done.returncode == 0, done.stdout + done.stderr


def test_reasons_stand_for_what_is_there():
    reasons = left_with_reasons()

    assert reasons.keys() <= set(subjects())
    assert all(reason.strip() for changes in reasons.values() for reason in changes.values())
