"""Has a photo developed by the child program and reads its answer, trusting neither the file nor the child."""

import json
import logging
import signal
import subprocess
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import BinaryIO

from capture.photos.child import LARGE_PX

log = logging.getLogger(__name__)

CHILD = Path(__file__).with_name("child.py")
PICTURE_BYTES_MOST = 8_000_000  # 1600 px square of pure noise come to about 3 MB
WAIT_SECONDS = 10  # for the child; then the machine is taken to be busy
PLACES = threading.BoundedSemaphore(2)  # children at once in one server process, each of up to 700 MB
PLACE_SECONDS = 8  # for a place; with the wait above less than the 20 s after which a phone hangs up
OUR_FAULT = {1, -signal.SIGKILL}  # the child itself is broken, or was killed by a system short of memory
REASONS = {"empty", "no_picture", "damaged", "too_many_pixels", "too_many_scans", "too_much"}


@dataclass(frozen=True)
class Developed:
    """The two pictures that are kept, as JPEG files. Width and height are the large one's. [px]"""

    width: int
    height: int
    large: bytes
    small: bytes


@dataclass(frozen=True)
class NotDeveloped:
    """The file can't be shown, now or later. `reason` is one of `Photo.Reason`."""

    reason: str


class TooBusy(Exception):
    """Nothing is known about the file: this machine had no room or no time for it just now."""


def developed(file: BinaryIO) -> Developed | NotDeveloped:
    """What becomes of the photo in `file`, a file that the system has open.

    Raises
    ------
    TooBusy
        If no place came free, or the machine rather than the file was at fault. Asking again may help.
    """
    child = answer_of(file)
    if child.returncode == 0:
        return read_answer(child.stdout)
    log.warning("a photo's decoder ended with %s", child.returncode)
    if child.returncode in OUR_FAULT:
        raise TooBusy
    return NotDeveloped("too_much")


def answer_of(file: BinaryIO) -> subprocess.CompletedProcess:
    """Runs the child on the file, from its start. Raises TooBusy when it can't be started or is not done in time."""
    with a_place():
        file.seek(0)
        try:
            return subprocess.run(
                [sys.executable, "-I", str(CHILD)],
                stdin=file,
                capture_output=True,
                timeout=WAIT_SECONDS,
                env={
                    "MALLOC_ARENA_MAX": "1",
                    "LC_ALL": "C.UTF-8",
                },  # one arena, so threads reserve no space each
                cwd="/",
            )
        except subprocess.TimeoutExpired:
            log.warning("a photo's decoder took longer than %s s", WAIT_SECONDS)
            raise TooBusy from None
        except OSError as error:
            log.error("a photo's decoder could not be started: %s", error.strerror)
            raise TooBusy from error


@contextmanager
def a_place() -> Iterator[None]:
    """Holds one of the few places for a child. Raises TooBusy when none came free."""
    if not PLACES.acquire(timeout=PLACE_SECONDS):
        raise TooBusy
    try:
        yield
    finally:
        PLACES.release()


def read_answer(answer: bytes) -> Developed | NotDeveloped:
    """The child's answer, held against what it must look like; anything else counts as not developed."""
    line, _newline, pictures = answer.partition(b"\n")
    try:
        reply = json.loads(line)
        if "refused" in reply:
            return NotDeveloped(reply["refused"] if reply["refused"] in REASONS else "too_much")
        width, height, large, small = (reply[key] for key in ("width", "height", "large", "small"))
    except (ValueError, KeyError, TypeError):
        return NotDeveloped("too_much")
    sizes_fit = all(type(side) is int and 0 < side <= LARGE_PX for side in (width, height))
    lengths_fit = type(large) is int and 0 < large < len(pictures) <= PICTURE_BYTES_MOST
    two = (pictures[:large], pictures[large:]) if lengths_fit else ()
    if not sizes_fit or not two or len(two[1]) != small or not all(map(is_jpeg, two)):
        return NotDeveloped("too_much")
    return Developed(width, height, *two)


def is_jpeg(picture: bytes) -> bool:
    """Whether the bytes begin and end as a JPEG file does."""
    return picture.startswith(b"\xff\xd8\xff") and picture.endswith(b"\xff\xd9")
