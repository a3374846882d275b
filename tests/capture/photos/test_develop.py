"""The child's answer is read strictly, and its end is told apart: the file's fault, or this machine's."""

import json
import tempfile
import threading

import pytest

from capture.models import Photo
from capture.photos import develop
from capture.photos.develop import Developed, NotDeveloped, TooBusy, developed, read_answer
from tests.capture.photos.pictures import CORNERS, alike, corner_colours, corners, encoded, seen

JPEG = b"\xff\xd8\xff\xe0 a picture \xff\xd9"


def file_of(data: bytes):
    file = tempfile.TemporaryFile()  # noqa: SIM115  closed with the last reference
    file.write(data)
    file.flush()
    return file


@pytest.fixture
def child_that(tmp_path, monkeypatch):
    """Puts another program in the child's place."""

    def does(source: str) -> None:
        program = tmp_path / "child.py"
        program.write_text(source)
        monkeypatch.setattr(develop, "CHILD", program)

    return does


def test_a_photo_is_developed_from_its_start_wherever_the_file_stands():
    file = file_of(encoded(corners()))

    result = developed(file)

    assert isinstance(result, Developed)
    assert (result.width, result.height) == (96, 64)
    assert alike(corner_colours(seen(result.large)), CORNERS)
    assert alike(corner_colours(seen(result.small)), CORNERS)


def test_words_are_not_developed():
    assert developed(file_of(b"just words")) == NotDeveloped("no_picture")


def test_every_reason_has_a_sentence():
    assert set(Photo.Reason.values) == develop.REASONS
    for reason in Photo.Reason.values:
        assert str(Photo(reason=reason).says).startswith("This photo can't be shown: ")


@pytest.mark.parametrize("end", ["SIGSEGV", "SIGABRT", "SIGXCPU"])
def test_a_file_that_brings_the_child_down_is_too_much(child_that, end):
    child_that(f"import os, signal\nos.kill(os.getpid(), signal.{end})")

    assert developed(file_of(b"x")) == NotDeveloped("too_much")


@pytest.mark.parametrize(
    "source", ["import os, signal\nos.kill(os.getpid(), signal.SIGKILL)", "import no_such_module"]
)
def test_a_child_killed_or_broken_says_nothing_about_the_file(child_that, source):
    child_that(source)

    with pytest.raises(TooBusy):
        developed(file_of(b"x"))


def test_a_child_that_is_not_done_in_time_is_ended(child_that, monkeypatch):
    child_that("import time\ntime.sleep(60)")
    monkeypatch.setattr(develop, "WAIT_SECONDS", 0.2)

    with pytest.raises(TooBusy):
        developed(file_of(b"x"))


def test_a_child_that_cannot_be_started_says_nothing_about_the_file(monkeypatch):
    monkeypatch.setattr(develop.sys, "executable", "/no/such/python")

    with pytest.raises(TooBusy):
        developed(file_of(b"x"))


def test_only_so_many_are_developed_at_once(monkeypatch):
    monkeypatch.setattr(develop, "PLACES", threading.BoundedSemaphore(1))
    monkeypatch.setattr(develop, "PLACE_SECONDS", 0.05)

    with develop.a_place(), pytest.raises(TooBusy):
        developed(file_of(encoded(corners())))

    assert isinstance(developed(file_of(encoded(corners()))), Developed)


def test_the_child_sees_no_secret(child_that, monkeypatch):
    monkeypatch.setenv("SHANKLINE_SECRET", "not for decoders")
    child_that(
        "import os, sys\n"
        "ok = not any('SHANKLINE' in name for name in os.environ) and os.getcwd() == '/'\n"
        "sys.stdout.write('{\"refused\": \"%s\"}\\n' % ('empty' if ok else 'damaged'))"
    )

    assert developed(file_of(b"x")) == NotDeveloped("empty")


def answer(pictures: bytes = JPEG * 2, **changes) -> bytes:
    line = {"width": 4, "height": 3, "large": len(JPEG), "small": len(JPEG), **changes}
    return json.dumps(line).encode() + b"\n" + pictures


def test_a_right_answer_is_read():
    assert read_answer(answer()) == Developed(4, 3, JPEG, JPEG)


@pytest.mark.parametrize(
    "wrong",
    [
        b"",
        b"\n",
        b"[]\n",
        b'"refused"\n',
        b"12\n",
        b'{"width": 4}\n',
        b'{"refused": "because of a <script>"}\n',
        b'{"refused": ["empty"]}\n',
        answer(width=0),
        answer(width=1601),
        answer(height="3"),
        answer(width=True),
        answer(large=0),
        answer(large=-1),
        answer(large=1e3),
        answer(large=10**9),
        answer(small=1),
        answer(pictures=JPEG),
        answer(pictures=JPEG * 3),
        answer(pictures=JPEG + b"<html>".ljust(len(JPEG))),
        answer(pictures=JPEG + JPEG[:-1] + b"\n"),
        answer(pictures=JPEG + bytes(9_000_000), small=9_000_000),
    ],
)
def test_any_other_answer_counts_as_not_developed(wrong):
    assert read_answer(wrong) == NotDeveloped("too_much")
