"""The list of printed labels, `records/printed-labels.csv`: day, number, address and stock, one line a label.

Gives text; puts nothing on disk. RFC 4180.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence

from passport.labels.stock import Stock
from passport.views.label import CaseLabel

HEAD = ("date", "id", "address", "stock")


def logged(before: str, labels: Sequence[CaseLabel], stock: Stock, today: str) -> str:
    """Give the list with these labels added at its end."""
    added = io.StringIO()
    writer = csv.writer(added, lineterminator="\n")
    if not before:
        writer.writerow(HEAD)
    writer.writerows((today, label.id, label.address, stock.name) for label in labels)
    closed = before if not before or before.endswith("\n") else before + "\n"
    return closed + added.getvalue()
