"""A run: from what was done, measured and seen to what comes next."""
