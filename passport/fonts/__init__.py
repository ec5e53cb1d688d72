"""The typefaces shipped for labels and PDFs.

Holds font files and their licences; knows nothing of what is set in them.
"""

from __future__ import annotations

from pathlib import Path

FONTS = Path(__file__).parent
