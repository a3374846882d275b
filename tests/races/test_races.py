"""Several at once, on SQLite and on PostgreSQL: one outcome, told truly to everybody."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.races import postgres

ROOT = Path(__file__).resolve().parent.parent.parent


@pytest.fixture(scope="module", params=["sqlite", "postgresql"])
def came(request, tmp_path_factory):
    """What came of the races on this database."""
    surroundings = {
        **os.environ,
        "SHANKLINE_DEMO": "1",
        "SHANKLINE_VAR": str(tmp_path_factory.mktemp("races")),
    }
    if request.param == "sqlite":
        return raced(surroundings)
    with postgres.cluster() as address:
        return raced({**surroundings, "SHANKLINE_DATABASE": address})


def raced(surroundings: dict) -> dict:
    command = [sys.executable, "-m", "tests.races.run"]
    done = subprocess.run(command, cwd=ROOT, env=surroundings, capture_output=True, text=True, timeout=240)
    assert done.returncode == 0, done.stderr[-2000:]
    return json.loads(done.stdout)


def test_twenty_confirmations_make_one(came):
    race = came["confirm_twenty_times"]

    assert race["answers"] == ["Changed"] * 19 + ["confirmed"]
    assert (race["events"], race["mails"]) == (1, 1)


def test_one_seal_sent_eight_times_makes_one_order(came):
    race = came["send_one_seal_eight_times"]

    assert len(race["answers"]) == 1
    assert json.loads(race["answers"][0])["revision"] == 1
    assert (race["revisions"], race["events"]) == (1, 1)


def test_of_two_seals_with_one_parent_one_counts_and_both_are_kept(came):
    race = came["send_two_seals_with_one_parent"]

    assert race == {"answers": ["kept", "ordered"], "revisions": 2, "rivals": 1, "contested": True}


def test_order_comes_into_being_once_whichever_of_seal_and_photos_comes_last(came):
    assert came["send_a_seal_while_its_photos_come"] == {"revisions": [1], "events": [1], "rivals": 0}


def test_what_is_confirmed_is_what_was_named(came):
    race = came["correct_and_confirm_at_once"]

    assert race["wrong"] == 0
    assert {tuple(outcome) for outcome in race["outcomes"]} <= {
        ("confirmed", "kept"),
        ("Changed", "ordered"),
    }


def test_document_asked_for_by_eight_at_once_is_kept_once_and_leaves_nothing_over(came):
    assert came["make_documents_eight_times"] == {"made": 2, "answered": True, "stored": True}


def test_the_chain_of_events_does_not_fork(came):
    assert came["chain_breaks"] == []
