"""Entries and catalogues to start tests from: the plain case, changed by dotted path."""

import copy
import json
from pathlib import Path

CATALOGUES = Path(__file__).resolve().parents[2] / "fixtures_demo" / "catalogues"

PLAIN = {
    "schema": "shankline-entry-1",
    "reference": "NF-0100",
    "side": "left",
    "units": "mm",
    "level": "transfemoral",
    "other_leg": "sound",
    "construction": "bare",
    "taken": "standing",
    "footwear": "low",
    "length": ["400", "400"],
    "girth": ["380", "380"],
    "girth_from": "sound_limb",
    "knee": {"named": "single_axis", "control": "mechanical"},
    "foot": {"profile": "low", "ankle": "solid"},
    "shell": {"wall": "thin", "rear": "short", "top": "plain", "colour": "slate", "finish": "matt"},
}


def set_at(value: dict, path: str, new) -> None:
    """Sets a value at a dotted path, making the groups on the way."""
    *groups, last = path.split(".")
    for key in groups:
        if value.get(key) is None:
            value[key] = {}
        value = value[key]
    value[last] = new


def entry_with(changes: dict | None = None) -> dict:
    """The plain entry with values set at dotted paths."""
    entry = copy.deepcopy(PLAIN)
    for path, new in (changes or {}).items():
        set_at(entry, path, new)
    return entry


def catalogue(name: str = "tarn-street-moulding-room") -> dict:
    """A demo catalogue."""
    return json.loads((CATALOGUES / f"{name}.json").read_text(encoding="utf-8"))
