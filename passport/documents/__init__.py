"""What is handed over on paper: made from views, as PDF or SVG.

Sees no record.
"""
