import io
import json
import subprocess
import sys
from pathlib import Path

import pytest
from django.core.management import CommandError, call_command

from orders.reckon import reckon
from tests.orders.entries import PLAIN, catalogue, entry_with

ROOT = Path(__file__).resolve().parents[4]


def run(*arguments, text: str | bytes = "") -> subprocess.CompletedProcess:
    """The command as a person runs it, in a process of its own."""
    given = text.encode() if isinstance(text, str) else text
    command = [sys.executable, "manage.py", "reckon", *arguments]
    return subprocess.run(command, input=given, capture_output=True, cwd=ROOT, timeout=120, check=False)


def printed(path: Path, **options) -> dict:
    out = io.StringIO()
    call_command("reckon", str(path), stdout=out, **options)
    return json.loads(out.getvalue())


def refused(path: Path, **options) -> CommandError:
    with pytest.raises(CommandError) as error:
        call_command("reckon", str(path), stdout=io.StringIO(), **options)
    assert "\n" not in str(error.value)
    assert error.value.returncode == 2
    return error.value


def test_it_prints_what_the_site_reckons(tmp_path):
    file = tmp_path / "entry.json"
    file.write_text(json.dumps(PLAIN))

    assert printed(file) == reckon(PLAIN, catalogue())


def test_another_catalogue_is_taken_by_name(tmp_path):
    file = tmp_path / "entry.json"
    file.write_text(json.dumps(entry_with({"shell.wall": "standard"})))

    assert printed(file, catalogue="quayside-forming")["lower_strap_mm"] == 55
    assert "quayside-forming, tarn-street-moulding-room" in str(refused(file, catalogue="nowhere"))


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (json.dumps(PLAIN | {"side": "up"}), "side: “up” is none of left, right."),
        (json.dumps(PLAIN | {"gap": 12}), "gap: should be a text, not a number."),
        (json.dumps(PLAIN)[:-1] + ', "side": "left"}', "side: is given twice."),
        (json.dumps(PLAIN)[:-1] + ', "gap": NaN}', "NaN is no number that JSON knows."),
        (
            json.dumps(PLAIN | {"reference": "x" * 1_000_000}),
            "reference: has 1000000 characters; 64 is the most.",
        ),
        ("[" * 100_000, "nested too deeply to be read."),
        ("{", "not JSON at line 1, character 2."),
    ],
)
def test_an_entry_that_cannot_be_read_is_refused_in_one_line(tmp_path, content, says):
    file = tmp_path / "entry.json"
    file.write_text(content)

    assert str(refused(file)) == says


def test_a_file_that_is_not_there_is_refused(tmp_path):
    assert "No such file" in str(refused(tmp_path / "none.json"))
    assert "directory" in str(refused(tmp_path))


def test_as_a_program_it_exits_0_whatever_the_flags_and_2_with_one_line():
    stopped = run("-", text=json.dumps(entry_with({"construction": "foam_on"})))
    unread = run("-", text=b"\xff\xfe{}")

    assert (stopped.returncode, stopped.stderr) == (0, b"")
    assert json.loads(stopped.stdout)["flags"][0]["id"] == "build.foam"
    assert unread.returncode == 2
    assert unread.stdout == b""
    assert unread.stderr.count(b"\n") == 1
    assert b"Traceback" not in unread.stderr


def test_lines_are_answered_with_a_line_each_and_the_bad_ones_named():
    lines = [json.dumps(PLAIN), "{", json.dumps(entry_with({"side": "up"})), json.dumps(PLAIN)]

    done = run("--lines", "-", text="\n".join(lines))

    answers = [json.loads(line) for line in done.stdout.splitlines()]
    assert len(answers) == 4
    assert answers[0] == answers[3] == reckon(PLAIN, catalogue())
    assert answers[1] == {"error": "not JSON at line 1, character 2."}
    assert answers[2] == {"error": "side: “up” is none of left, right."}
    assert done.returncode == 2
    assert done.stderr.count(b"\n") == 1


def test_good_lines_alone_end_well():
    done = run("--lines", text=(json.dumps(PLAIN) + "\n") * 3)

    assert (done.returncode, done.stderr, len(done.stdout.splitlines())) == (0, b"", 3)
