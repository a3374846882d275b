from datetime import date

import pytest

from orders.promise import earliest_promise, late_words, latest_promise, lead_time_words


@pytest.mark.parametrize(("days", "day"), [(0, 27), (1, 28), (2.5, 30), (3, 30)])
def test_every_day_counts_weekends_too(days, day):
    friday = date(2026, 11, 27)

    assert earliest_promise({"lead_time_days": days}, friday) == date(2026, 11, day)


def test_a_promise_lies_within_a_year_of_the_first_day():
    assert latest_promise(date(2026, 11, 27)) == date(2027, 11, 28)


def test_a_promise_says_by_how_much_it_is_late():
    assert late_words(date(2026, 12, 5), date(2026, 12, 4)) == "1 day after it is needed"
    assert late_words(date(2026, 12, 7), date(2026, 12, 4)) == "3 days after it is needed"


@pytest.mark.parametrize(
    ("promised", "needed"), [(date(2026, 12, 4), date(2026, 12, 4)), (date(2026, 12, 4), None), (None, None)]
)
def test_a_promise_in_time_says_nothing(promised, needed):
    assert late_words(promised, needed) == ""


def test_lead_time_in_words():
    assert [lead_time_words({"lead_time_days": days}) for days in (0, 1, 10)] == ["none", "1 day", "10 days"]
