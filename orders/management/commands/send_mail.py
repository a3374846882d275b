"""`manage.py send_mail`: sends the mail that waits. Run it by a timer, or with --every beside the server."""

import time

from django.core.management.base import BaseCommand

from orders.mail import send_waiting


class Command(BaseCommand):
    help = "Sends the mail that waits, once, or again every so many seconds."

    def add_arguments(self, parser) -> None:
        parser.add_argument(
            "--every", type=int, metavar="SECONDS", help="go on, looking again after so many seconds"
        )

    def handle(self, every: int | None, **options) -> None:
        while True:
            sent, failed = send_waiting()
            if sent or failed or not every:
                self.stdout.write(f"{sent} sent, {failed} to be tried again")
            if not every:
                return
            time.sleep(max(every, 1))
