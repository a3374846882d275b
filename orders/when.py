"""Days and moments as a person at a bench says them."""

from datetime import date, datetime

from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from project.dates import date_format


def due_words(day: date, today: date) -> str:
    """How far off a day is: "today", "in 6 days", "2 days late"."""
    days = (day - today).days
    if days == 0:
        return _("today")
    if days == 1:
        return _("tomorrow")
    if days > 1:
        return _("in {count} days").format(count=days)
    return ngettext("{count} day late", "{count} days late", -days).format(count=-days)


def ago_words(at: datetime, now: datetime) -> str:
    """How long ago a moment was: "just now", "20 min ago", "3 h ago", "yesterday", else its day."""
    minutes = int((now - at).total_seconds() // 60)
    if minutes < 1:
        return _("just now")
    if minutes < 60:
        return _("{count} min ago").format(count=minutes)
    days = (timezone.localdate(now) - timezone.localdate(at)).days
    if days == 0:
        return _("{count} h ago").format(count=minutes // 60)
    return _("yesterday") if days == 1 else short_day(timezone.localdate(at), timezone.localdate(now))


def waited_words(at: datetime, now: datetime) -> str:
    """How long something has waited: as `ago_words`, and days by their number: "2 days ago"."""
    days = (timezone.localdate(now) - timezone.localdate(at)).days
    return _("{count} days ago").format(count=days) if days > 1 else ago_words(at, now)


def short_day(day: date, today: date) -> str:
    """ "2 Dec", with its year where that isn't this one."""
    return date_format(day, "j M" if day.year == today.year else "j M Y")


def moment_words(at: datetime) -> str:
    """ "5 Dec 09:12", in the site's time zone."""
    local = timezone.localtime(at)
    return f"{short_day(local.date(), timezone.localdate())} {date_format(local, 'H:i')}"
