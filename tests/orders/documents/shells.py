"""Shells for the documents' tests, reckoned as the site reckons them."""

import json

from orders.documents.shell import MadeShell, made_shell
from orders.reckon import reckon
from tests import factories

QUAYSIDE = {"wall": "standard", "rear": "half", "top": "open_front", "colour": "sand", "finish": "smooth"}


def catalogue(name: str = "tarn-street-moulding-room") -> dict:
    """One of the demo's catalogues."""
    return json.loads((factories.CATALOGUES / f"{name}.json").read_text())


def shell(entry: dict | None = None, made_by: dict | None = None, reference: str = "T-0001") -> MadeShell:
    """The plain case's shell, or that of another entry or catalogue: 381 mm long, 374.65 mm round."""
    entry, made_by = entry or factories.entry(), made_by or catalogue()
    return made_shell(reference, 1, entry, reckon(entry, made_by), made_by)


def trimmed() -> MadeShell:
    """A shell of the workshop that leaves 10 mm to trim."""
    return shell(factories.entry(shell=QUAYSIDE), catalogue("quayside-forming"))
