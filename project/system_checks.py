"""Start-up checks, each with an id: what must be set before the site may run outside the demo."""

import contextlib
import os

from django.conf import settings
from django.core.checks import Error, Tags, register


@register(Tags.security)
def secret_is_set(app_configs, **kwargs) -> list[Error]:
    """shankline.E001: no start with the demo's secret outside the demo."""
    if settings.DEMO or settings.SECRET_KEY != settings.DEMO_SECRET:
        return []
    return [
        Error(
            "The secret is the demo's.",
            hint="Set SHANKLINE_SECRET to 50 random characters.",
            id="shankline.E001",
        )
    ]


@register()
def storage_is_writable(app_configs, **kwargs) -> list[Error]:
    """shankline.E002: the folder for the database and the files can be written to."""
    with contextlib.suppress(OSError):
        settings.VAR.mkdir(parents=True, exist_ok=True)
    if os.access(settings.VAR, os.W_OK):
        return []
    hint = "Set SHANKLINE_VAR to a folder that this user may write to."
    return [Error(f"{settings.VAR} can't be written to.", hint=hint, id="shankline.E002")]
