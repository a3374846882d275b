"""`manage.py reading TEXT`: what the parser makes of a typed length. Needs no database."""

import json
import sys
from collections.abc import Iterable

from django.core.management.base import BaseCommand, CommandError, CommandParser

from orders.reckoning.typed import Understood, understand
from orders.reckoning.units import MM_PER

UNREADABLE = 2


class Command(BaseCommand):
    """Prints what was understood as JSON: ``{"outcome": "value|ask|refuse", "mm", "says"}``."""

    help = "Read a text as a length, as the sheet's length field would."
    requires_system_checks: list[str] = []

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("text", metavar="TEXT", help="as typed, or - for JSON lines on standard input")
        parser.add_argument("--unit", default="mm", choices=sorted(MM_PER), help="what a bare number means")

    def handle(self, *args, **options) -> None:
        if options["text"] == "-":
            self._answer_lines()
        else:
            self._say(understand(options["text"], options["unit"]))

    def _say(self, understood: Understood) -> None:
        answer = {"outcome": understood.outcome, "mm": understood.mm, "says": understood.says}
        if understood.offers:
            answer["offers"] = list(understood.offers)
        self.stdout.write(json.dumps(answer, ensure_ascii=False))

    def _answer_lines(self) -> None:
        with open(sys.stdin.fileno(), encoding="utf-8", errors="surrogateescape", closefd=False) as stream:
            self._answer_each(line for line in stream if line.strip())

    def _answer_each(self, lines: Iterable[str]) -> None:
        unreadable = 0
        for line in lines:
            asked = _asked(line)
            if isinstance(asked, str):
                unreadable += 1
                self.stdout.write(json.dumps({"error": asked}, ensure_ascii=False))
            else:
                self._say(understand(*asked))
        if unreadable:
            raise CommandError(f"{unreadable} of the lines couldn't be read.", returncode=UNREADABLE)


def _asked(line: str) -> tuple[str, str] | str:
    """Text and unit of one line, or what is wrong with it."""
    try:
        asked = json.loads(line)
    except (ValueError, RecursionError):
        return "not JSON."
    if not isinstance(asked, dict) or not isinstance(asked.get("input"), str):
        return "input: should be a text."
    unit = asked.get("unit") or "mm"
    if not isinstance(unit, str) or unit not in MM_PER:
        return "unit: should be mm, cm or in."
    return asked["input"], unit
