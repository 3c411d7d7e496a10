"""What goes on paper: sheet, tags, code, checks."""
