"""The phone's app around its page: what it keeps for when there is no signal, its worker, its manifest."""

import json
from pathlib import Path

from django.conf import settings
from django.templatetags.static import static
from django.urls import reverse
from django.utils.translation import gettext as _

from project import build
from project.bundle import minified

# What the phone's page needs besides itself and its scripts, below the build's folder.
OTHER_FILES = (
    "css/tokens.css",
    "css/base.css",
    f"css/{build.STYLE}",
    "js/sheet/shrink_worker.js",
    "icon.svg",
)
ICONS = (
    {"src": "icons/192.png", "sizes": "192x192", "type": "image/png"},
    {"src": "icons/512.png", "sizes": "512x512", "type": "image/png"},
    {"src": "icons/maskable-512.png", "sizes": "512x512", "type": "image/png", "purpose": "maskable"},
)


def files() -> list[str]:
    """What the worker keeps besides the pages, below the build's folder, what the page waits for first.

    An install that misses one fails.
    """
    return [*(f"js/sheet/{name}" for name in build.bundle_names()), *OTHER_FILES]


def worker_script() -> str:
    """The service worker with this build's addresses before it; another build is another script."""
    told = {
        "id": build.build_id(),
        "folder": build.static_prefix(),
        "sheet": reverse("capture:visits"),
        "offline": reverse("offline"),
        "files": [static(name) for name in files()],
        "books": {language: static(build.book_file(language)) for language, _name in settings.LANGUAGES},
    }
    source = Path(settings.ROOT / "static" / "js" / "offline" / "worker.js").read_text(encoding="utf-8")
    return f"const BUILD = {json.dumps(told)};\n{minified(source)}"


def handout_worker_script() -> str:
    """The service worker of the person's page. It knows no build: a page names the files that it is shown with."""
    source = Path(settings.ROOT / "static" / "js" / "handout" / "worker.js").read_text(encoding="utf-8")
    return minified(source)


def manifest() -> dict:
    """The web app manifest (W3C Web Application Manifest), in the language that is active."""
    visits = reverse("capture:visits")
    return {
        "id": visits,
        "name": "Shankline",
        "short_name": "Shankline",
        "description": _("Measures for a shank shell, at the person's home, with no signal too."),
        "start_url": visits,
        "scope": "/",
        "display": "standalone",
        "background_color": "#f3f5f1",
        "theme_color": "#f3f5f1",
        "icons": [{**icon, "src": static(icon["src"])} for icon in ICONS],
    }
