"""How people write numbers, lengths, units, places and names, read exactly."""
