"""A job as a short text in an address, and back. What is known beforehand is copied here on purpose: a link opens for ever."""
