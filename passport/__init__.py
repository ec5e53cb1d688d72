"""One record per instrument: checked, projected, published."""

__version__ = "0.1.0"
