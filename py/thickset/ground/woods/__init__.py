"""The woods, each figure with how it is known."""
