"""Pyodide trimmed, and the core's warm memory frozen."""
