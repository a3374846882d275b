"""`manage.py demo`: makes the demo's own database, loads its world, builds the site and serves it."""

import os
import socket
import sys

from django.conf import settings
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError


class Command(BaseCommand):
    help = "Loads the demo world and serves it."
    requires_system_checks = []

    def add_arguments(self, parser) -> None:
        parser.add_argument("--port", type=int, default=8000)
        parser.add_argument("--no-serve", action="store_true", help="stop before serving")

    def handle(self, port: int, no_serve: bool, **options) -> None:
        if not settings.DEMO:
            # The demo's settings are chosen before Django starts, so it starts once more with them.
            os.environ["SHANKLINE_DEMO"] = "1"
            os.environ.setdefault("SHANKLINE_VAR", str(settings.ROOT / "var" / "demo"))
            os.execv(sys.executable, [sys.executable, *sys.argv])
        if not no_serve:
            self.refuse_a_taken_port(port)
        settings.VAR.mkdir(parents=True, exist_ok=True)
        call_command("migrate", verbosity=0)
        call_command("createcachetable", verbosity=0)
        call_command("load_demo")
        call_command("build_site")
        if not no_serve:
            self.serve(port)

    def refuse_a_taken_port(self, port: int) -> None:
        with socket.socket() as probe:
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            try:
                probe.bind(("127.0.0.1", port))
            except OSError:
                raise CommandError(f"port {port} is taken; try --port {port + 1}") from None

    def serve(self, port: int) -> None:
        import waitress  # only here: the other paths don't serve

        from project.wsgi import application

        settings.SITE_ADDRESS = (
            f"http://127.0.0.1:{port}/"  # what links and mails name; this process serves it
        )

        self.stdout.write(self.where(port))
        self.stdout.flush()
        waitress.serve(application, listen=f"127.0.0.1:{port}", threads=8, ident=None)

    def where(self, port: int) -> str:
        """Where it is served, and who can sign in."""
        from fixtures_demo import world  # the demo's, not the site's

        lines = [f"\nShankline's demo: http://127.0.0.1:{port}/   (Ctrl-C stops it)", ""]
        lines += [f"  {mail:32} {role:11} {place}" for mail, _name, _initials, role, place in world.MEMBERS]
        lines += [
            f"\n  password for all: {world.PASSWORD}",
            "  The second factor is off in the demo; everything in it is invented.",
            "",
        ]
        return "\n".join(lines)
