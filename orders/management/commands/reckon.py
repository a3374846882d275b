"""`manage.py reckon ENTRY.json`: the reckoning of one entry, without the site. Needs no database."""

import json
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import TextIO

from django.core.management.base import BaseCommand, CommandError, CommandParser

from orders.reckon import CatalogueError, EntryError, reckon
from orders.reckoning.catalogue import read_catalogue
from orders.reckoning.shape import read_json
from orders.rulebook.givens import BookError

DEFAULT_CATALOGUE = "tarn-street-moulding-room"
UNREADABLE = 2


def catalogue_folder() -> Path:
    """Where the demo's catalogues are."""
    return Path(__file__).resolve().parents[3] / "fixtures_demo" / "catalogues"


class Command(BaseCommand):
    """Prints the result as JSON. Exit 0 whatever the flags; 2 for an entry that can't be read."""

    help = "Reckon an entry: figures, derivations and flags, as JSON."
    requires_system_checks: list[str] = []

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument(
            "entry", metavar="ENTRY.json", nargs="?", default="-", help="a file, or - for standard input"
        )
        parser.add_argument(
            "--lines", action="store_true", help="read an entry a line, answer with a line each"
        )
        parser.add_argument(
            "--catalogue", default=DEFAULT_CATALOGUE, metavar="NAME", help="%(default)s if left out"
        )

    def handle(self, *args, **options) -> None:
        catalogue = _catalogue(options["catalogue"])
        with _opened(options["entry"]) as stream:
            if options["lines"]:
                self._answer_lines(stream, catalogue)
            else:
                self._answer(stream, catalogue)

    def _answer(self, stream: TextIO, catalogue: dict) -> None:
        try:
            result = reckon(read_json(_whole(stream)), catalogue)
        except EntryError as error:
            raise CommandError(_one_line(error), returncode=UNREADABLE) from None
        self.stdout.write(json.dumps(result, indent=1, ensure_ascii=False))

    def _answer_lines(self, stream: TextIO, catalogue: dict) -> None:
        unreadable = 0
        for line in _lines(stream):
            try:
                answer = reckon(read_json(line.strip()), catalogue)
            except EntryError as error:
                unreadable += 1
                answer = {"error": _one_line(error)}
            self.stdout.write(json.dumps(answer, ensure_ascii=False))
        if unreadable:
            plural = "y" if unreadable == 1 else "ies"
            raise CommandError(f"{unreadable} entr{plural} couldn't be read.", returncode=UNREADABLE)


def _catalogue(name: str) -> dict:
    names = sorted(path.stem for path in catalogue_folder().glob("*.json"))
    if name not in names:
        raise CommandError(
            f"--catalogue: there is none called “{name}”, only {', '.join(names)}.", returncode=UNREADABLE
        )
    try:
        return read_catalogue(read_json((catalogue_folder() / f"{name}.json").read_text(encoding="utf-8")))
    except (CatalogueError, BookError) as error:
        raise CommandError(f"--catalogue {name}: {_one_line(error)}", returncode=UNREADABLE) from None


def _opened(path: str) -> TextIO:
    if path == "-":
        return open(sys.stdin.fileno(), encoding="utf-8", errors="surrogateescape", closefd=False)
    try:
        return open(path, encoding="utf-8", errors="surrogateescape")
    except OSError as error:
        raise CommandError(f"{path}: {error.strerror}.", returncode=UNREADABLE) from None


def _whole(stream: TextIO) -> str:
    try:
        return stream.read()
    except OSError as error:
        raise CommandError(f"can't be read: {error.strerror}.", returncode=UNREADABLE) from None


def _lines(stream: TextIO) -> Iterator[str]:
    return (line for line in stream if line.strip())


def _one_line(error: Exception) -> str:
    return " ".join(str(error).split())
