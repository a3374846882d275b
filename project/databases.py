"""Which database, and how it is opened: SQLite by default, PostgreSQL by one environment variable."""

import sqlite3
from pathlib import Path
from urllib.parse import unquote, urlsplit

from django.core.exceptions import ImproperlyConfigured

# Releases in which the WAL-reset fault is mended (sqlite.org, release notes of these three); older ones keep to
# the rollback journal, where it cannot happen.
WAL_MENDED = ((3, 51, 3), (3, 50, 7), (3, 44, 6))


def chosen(url: str, sqlite_file: Path) -> dict:
    """Django's settings for the database that `url` names (postgresql://…), or for the SQLite file without one."""
    if not url:
        return sqlite(sqlite_file)
    parts = urlsplit(url)
    if parts.scheme not in {"postgresql", "postgres"}:
        raise ImproperlyConfigured(
            "SHANKLINE_DATABASE must begin with postgresql://, or be left out for SQLite"
        )
    return {
        "ENGINE": "django.db.backends.postgresql",
        "NAME": parts.path.lstrip("/"),
        "USER": unquote(parts.username or ""),
        "PASSWORD": unquote(parts.password or ""),
        "HOST": unquote(parts.hostname or ""),
        "PORT": str(parts.port or ""),
        "OPTIONS": {"pool": True},
    }


def sqlite(file: Path) -> dict:
    """Django's settings for SQLite as it holds up under threads: writers queue at once, nothing acknowledged is lost."""
    journal = "wal" if wal_is_safe(sqlite3.sqlite_version_info) else "delete"
    return {
        "ENGINE": "django.db.backends.sqlite3",
        "NAME": file,
        "OPTIONS": {
            "transaction_mode": "IMMEDIATE",
            "timeout": 20,
            "init_command": f"PRAGMA journal_mode={journal};PRAGMA synchronous=FULL;PRAGMA foreign_keys=ON;",
        },
        # In-memory databases break under threads, so the tests' one has a file too.
        "TEST": {"NAME": str(file.with_name(f"test-{file.stem}.sqlite3"))},
    }


def wal_is_safe(version: tuple[int, int, int]) -> bool:
    """Whether write-ahead logging may be used with this SQLite: see WAL_MENDED."""
    return version >= WAL_MENDED[0] or any(
        version[:2] == mended[:2] and version >= mended for mended in WAL_MENDED[1:]
    )
