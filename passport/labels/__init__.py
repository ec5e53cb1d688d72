"""Labels: each kind has its words, and all but the number for the inside a code.

What is handed out comes from `finished_png` and `finished_sheet` alone, which read every label back; a preview and a
calibration page bear nothing that could be taken for a label.
"""

from __future__ import annotations

from passport.labels.calibration import calibration_page
from passport.labels.code import note
from passport.labels.finished import finished_png, finished_sheet
from passport.labels.kinds import KINDS, Kind
from passport.labels.preview import preview

__all__ = ["KINDS", "Kind", "calibration_page", "finished_png", "finished_sheet", "note", "preview"]
