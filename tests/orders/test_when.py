from datetime import UTC, date, datetime, timedelta

import pytest

from orders.when import ago_words, due_words, waited_words

TODAY = date(2026, 12, 5)
NOW = datetime(2026, 12, 5, 15, 0, tzinfo=UTC)


@pytest.mark.parametrize(
    ("days", "words"),
    [
        (0, "today"),
        (1, "tomorrow"),
        (2, "in 2 days"),
        (30, "in 30 days"),
        (-1, "1 day late"),
        (-2, "2 days late"),
    ],
)
def test_due_day_is_said_from_today(days, words):
    assert due_words(TODAY + timedelta(days=days), TODAY) == words


@pytest.mark.parametrize(
    ("at", "words"),
    [
        (NOW, "just now"),
        (NOW - timedelta(seconds=59), "just now"),
        (NOW - timedelta(minutes=1), "1 min ago"),
        (NOW - timedelta(minutes=59), "59 min ago"),
        (NOW - timedelta(minutes=60), "1 h ago"),
        (datetime(2026, 12, 5, 0, 5, tzinfo=UTC), "14 h ago"),
        (datetime(2026, 12, 4, 23, 55, tzinfo=UTC), "yesterday"),
        (datetime(2026, 12, 3, 23, 55, tzinfo=UTC), "3 Dec"),
        (datetime(2025, 12, 3, 9, 0, tzinfo=UTC), "3 Dec 2025"),
    ],
)
def test_moment_is_said_from_now(at, words):
    assert ago_words(at, NOW) == words


@pytest.mark.parametrize(
    ("at", "words"),
    [
        (NOW - timedelta(hours=5), "5 h ago"),
        (NOW - timedelta(hours=16), "yesterday"),
        (datetime(2026, 12, 3, 23, 59, tzinfo=UTC), "2 days ago"),
        (NOW - timedelta(days=40), "40 days ago"),
    ],
)
def test_what_waits_is_counted_in_days(at, words):
    assert waited_words(at, NOW) == words
