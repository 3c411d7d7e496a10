"""What a person sees at the machine and after it."""
