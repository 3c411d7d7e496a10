"""What a person sees of a plan."""
