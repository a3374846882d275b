"""The day on which a shell leaves the workshop: the first that may be promised, and how it is told."""

from collections.abc import Mapping
from datetime import date, timedelta
from math import ceil

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

PROMISED_MOST_DAYS = 366  # after the first that can be promised


def earliest_promise(catalogue: Mapping, today: date) -> date:
    """The first day that may be promised when an order is confirmed today.

    Parameters
    ----------
    catalogue : dict
        Its `lead_time_days` counts every day, weekends too. [day]
    """
    return today + timedelta(days=ceil(catalogue["lead_time_days"]))


def latest_promise(earliest: date) -> date:
    """The last day that is taken for one: what is later is a slip in the year, and a confirmation can't be undone."""
    return earliest + timedelta(days=PROMISED_MOST_DAYS)


def late_words(promised_for: date | None, need_by: date | None) -> str:
    """By how much a promise misses the day that the clinic needs it; "" where it doesn't."""
    days = (promised_for - need_by).days if promised_for and need_by else 0
    if days <= 0:
        return ""
    return ngettext("{count} day after it is needed", "{count} days after it is needed", days).format(
        count=days
    )


def lead_time_words(catalogue: Mapping) -> str:
    """ "10 days"."""
    days = ceil(catalogue["lead_time_days"])
    return ngettext("{count} day", "{count} days", days).format(count=days) if days else _("none")
