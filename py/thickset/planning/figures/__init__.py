"""Figures beside the passes: surface, load, shavings, overhang."""
