"""`python -m thickset`."""

import os
import sys

from thickset.doors.command import main

if __name__ == "__main__":
    try:
        status = main()
        sys.stdout.flush()
    except BrokenPipeError:
        # Whoever read the output has enough; nothing more may be written at exit.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        status = 0
    sys.exit(status)
