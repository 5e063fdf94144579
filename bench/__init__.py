"""Tenthmark: float readings, section resizing and cut lists for builders of wooden aircraft."""

__version__ = "0.1.0"
