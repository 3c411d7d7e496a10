"""The trade's formulas: pure functions on plain numbers, each with units, range, source and worked example."""
