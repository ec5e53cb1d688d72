"""Drawings: from plain numbers to SVG that follows the page's colours; the same numbers give the same bytes."""
