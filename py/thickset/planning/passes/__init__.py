"""From a job to its plan: settings, passes, what becomes of boards."""
