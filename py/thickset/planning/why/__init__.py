"""Why any number of a plan is what it is."""
