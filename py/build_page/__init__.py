"""What build.py does: fetch the tools, ask the core, freeze it, put the page together, run the checks."""
