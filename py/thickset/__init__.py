"""Thickset: the planer passes that bring a whole lot of boards to one thickness."""

__version__ = "0.1.0"
