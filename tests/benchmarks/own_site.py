"""Django in this process, on a folder and a database that go again."""

import os
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path


@contextmanager
def own_site(tables: bool = True) -> Iterator[Path]:
    """The folder of a site set up as the demo is, with its tables unless something else makes them.

    Django's settings are chosen here, once for a process: what needs them is imported inside.
    """
    with tempfile.TemporaryDirectory() as var:
        os.environ |= {
            "DJANGO_SETTINGS_MODULE": "project.settings",
            "SHANKLINE_VAR": var,
            "SHANKLINE_DEMO": "1",
        }
        import django

        django.setup()
        if tables:
            from django.core.management import call_command

            call_command("migrate", verbosity=0)
            call_command("createcachetable", verbosity=0)
        yield Path(var)
