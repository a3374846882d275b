"""`manage.py build_site`: collects the static files, writes the rule book and the phone's page, compresses all."""

from pathlib import Path

from django.conf import settings
from django.core.management import call_command
from django.core.management.base import BaseCommand
from whitenoise.compress import Compressor

from project import build


class Command(BaseCommand):
    help = "Builds what is served as it is, in a folder named by its hash."

    def handle(self, **options) -> None:
        folder = Path(settings.STATIC_ROOT) / build.build_id()
        done = folder / ".done"
        if not done.exists():
            call_command("collectstatic", interactive=False, verbosity=0)
            build.write_books()
            build.write_bundles()
            build.write_styles()
            self.compress(folder)
            build.write_pages()
            done.touch()
        self.stdout.write(f"built {build.build_id()}")

    def compress(self, folder: Path) -> None:
        """A .gz and a .br beside each file that gets smaller by it."""
        compressor = Compressor(quiet=True)
        for file in folder.rglob("*"):
            if file.is_file() and compressor.should_compress(file.name):
                for _made in compressor.compress(str(file)):
                    pass
