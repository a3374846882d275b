"""Every key that the core cites stands in the bibliography, and every entry is cited."""

import re
from pathlib import Path

from orders.reckoning.sources import SOURCES

CORE = Path(__file__).resolve().parents[3] / "orders" / "reckoning"


def _cited():
    keys = set()
    for module in CORE.glob("*.py"):
        keys |= set(re.findall(r"\[([A-Z][A-Z0-9]{2,})\]", module.read_text(encoding="utf-8")))
    return keys - {"KEY"}


def test_every_cited_key_has_an_entry():
    assert _cited() - SOURCES.keys() == set()


def test_every_entry_is_cited():
    assert SOURCES.keys() - _cited() == set()
