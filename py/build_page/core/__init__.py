"""What the build asks of the core, and the core as a wheel."""
