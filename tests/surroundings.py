"""The settings that the tests run under, put in place before Django reads any (loaded first, by `-p` in pyproject.toml).

The demo's: no https, no second factor. In a folder of this process alone, so that two runs at once don't meet.
"""

import os
import shutil
import tempfile
from pathlib import Path

os.environ["SHANKLINE_DEMO"] = "1"
VAR = Path(tempfile.mkdtemp(prefix="shankline-tests-"))
os.environ["SHANKLINE_VAR"] = str(VAR)
(VAR / "site").mkdir()
# A browser test leaves Playwright's loop on its thread; Django would then refuse the next test's queries.
os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "true"


def pytest_unconfigure(config):
    shutil.rmtree(VAR, ignore_errors=True)
