"""A reason as a person reads it."""
