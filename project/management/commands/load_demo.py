"""`manage.py load_demo`: the demo's own world, loaded once."""

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError


class Command(BaseCommand):
    help = "Loads the demo's own world."

    def handle(self, **options) -> None:
        if not settings.DEMO:
            raise CommandError("the demo's accounts have known passwords; set SHANKLINE_DEMO=1 to load them")
        from fixtures_demo.load import load  # the demo's, not the site's

        load()
