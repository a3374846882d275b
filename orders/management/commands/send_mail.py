"""`manage.py send_mail`: sends the mail that waits. Run it by a timer, or with --every beside the server."""

import time

from django.core.management.base import BaseCommand
from django.db import DatabaseError, connection

from orders.mail import send_waiting


class Command(BaseCommand):
    help = "Sends the mail that waits, once, or again every so many seconds."

    def add_arguments(self, parser) -> None:
        parser.add_argument(
            "--every", type=int, metavar="SECONDS", help="go on, looking again after so many seconds"
        )

    def handle(self, every: int | None, **options) -> None:
        if not every:
            self.stdout.write(told(*send_waiting()))
            return
        while True:
            try:
                sent, failed = send_waiting()
                if sent or failed:
                    self.stdout.write(told(sent, failed))
            except DatabaseError as fault:
                # Started anew, say: what waits still waits, and a closed connection is opened by whoever asks next.
                self.stderr.write(f"the database does not answer: {fault}")
                connection.close()
            time.sleep(max(every, 1))


def told(sent: int, failed: int) -> str:
    """What a round came to."""
    return f"{sent} sent, {failed} to be tried again"
