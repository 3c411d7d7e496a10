"""A planer's book: what its runs and scraps left, entry by entry, and what follows from them."""
