"""The pictures: the lot, the planed surface, how a board turns."""
