"""What a person sees of the planers that are kept: the book of one, and which of them for a lot."""
