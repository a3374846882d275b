"""Printed tables that the core is held to: CSV, the source in the lines that begin with #."""

import csv
from pathlib import Path


def rows(table: str) -> list[dict[str, float]]:
    """The rows of published/<table>.csv, all numbers."""
    lines = (Path(__file__).parent / f"{table}.csv").read_text(encoding="utf-8").splitlines()
    body = csv.DictReader(line for line in lines if not line.startswith("#"))
    return [{name: float(value) for name, value in row.items()} for row in body]
