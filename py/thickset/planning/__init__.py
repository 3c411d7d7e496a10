"""From a job to its plan, and from where the boards now are to the rest of it."""
