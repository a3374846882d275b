import io
import json
import subprocess
import sys
from pathlib import Path

import pytest
from django.core.management import call_command

ROOT = Path(__file__).resolve().parents[4]


def read(text: str, **options) -> dict:
    out = io.StringIO()
    call_command("reading", text, stdout=out, **options)
    return json.loads(out.getvalue())


@pytest.mark.parametrize(
    ("text", "unit", "outcome", "mm"),
    [
        # 1 in is 25.4 mm exactly
        ("15 1/2", "in", "value", 393.7),
        ("1' 3 1/2\"", "mm", "value", 393.7),
        ("394", "mm", "value", 394.0),
        ("39.4", "mm", "ask", None),
        ("1,234", "mm", "refuse", None),
        ("-394", "mm", "refuse", None),
        ("", "mm", "refuse", None),
        ("4" * 1000, "mm", "refuse", None),
    ],
)
def test_it_prints_what_was_understood(text, unit, outcome, mm):
    answer = read(text, unit=unit)

    assert (answer["outcome"], answer["mm"]) == (outcome, mm)
    assert answer["says"]


def test_a_question_comes_with_the_reading_it_offers():
    assert read("39.4")["offers"] == ["39.4 cm"]


def test_lines_are_answered_with_a_line_each():
    lines = [
        '{"input": "15 1/2", "unit": "in"}',
        '{"input": "394"}',
        "nonsense",
        '{"input": 5}',
        '{"input": "394", "unit": "yard"}',
    ]
    command = [sys.executable, "manage.py", "reading", "-"]

    done = subprocess.run(
        command, input="\n".join(lines), capture_output=True, text=True, cwd=ROOT, timeout=60, check=False
    )

    answers = [json.loads(line) for line in done.stdout.splitlines()]
    assert [answer.get("mm") for answer in answers] == [393.7, 394.0, None, None, None]
    assert [answer.get("error") for answer in answers[2:]] == [
        "not JSON.",
        "input: should be a text.",
        "unit: should be mm, cm or in.",
    ]
    assert done.returncode == 2
    assert "Traceback" not in done.stderr
