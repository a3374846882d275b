"""The figure's data: paths, places, frames and words, shared with the phone."""

import json
from pathlib import Path
from typing import Any

DATA_FILE = Path(__file__).resolve().parents[2] / "static" / "figures" / "leg.js"
_PREFIX = "export default "


def read_figure(text: str) -> dict[str, Any]:
    """The data of the module `text`, which is strict JSON behind "export default ".

    Raises ValueError if it is anything else: the browser would read what Python can't.
    """
    if not text.startswith(_PREFIX):
        raise ValueError(f"the figure's data must start with {_PREFIX!r}")
    return json.loads(text.removeprefix(_PREFIX).strip().removesuffix(";"))


FIGURE = read_figure(DATA_FILE.read_text(encoding="utf-8"))
