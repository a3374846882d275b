"""Relations of the survey ANSUR II, from reference/ansur2_calf_relations.csv, whose source stands on top of it."""

import csv
from pathlib import Path

_CSV = Path(__file__).with_name("reference") / "ansur2_calf_relations.csv"


def relations(sex: str, relation: str) -> dict[str, float]:
    """One relation's quantities by name; sex is male, female or pooled."""
    lines = _CSV.read_text(encoding="utf-8").splitlines()
    rows = csv.DictReader(line for line in lines if not line.startswith("#"))
    return {
        row["quantity"]: float(row["value"])
        for row in rows
        if (row["sex"], row["relation"]) == (sex, relation)
    }
