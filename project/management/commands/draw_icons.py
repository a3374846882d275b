"""`manage.py draw_icons`: draws the app's icons from the leg figure into static/."""

from django.conf import settings
from django.core.management.base import BaseCommand

from project import icons


class Command(BaseCommand):
    help = "Draws the app's icons anew; their files are committed."
    requires_system_checks = []

    def handle(self, **options) -> None:
        folder = settings.ROOT / "static"
        (folder / "icons").mkdir(exist_ok=True)
        (folder / "icon.svg").write_text(icons.svg(), encoding="utf-8")
        for name in icons.FORMS:
            (folder / "icons" / f"{name}.png").write_bytes(icons.png(name))
