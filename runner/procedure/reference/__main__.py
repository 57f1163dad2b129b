"""Prints the reference: `python -m runner.procedure.reference > procedures/README.md`."""

import sys

from runner.procedure.reference.page import page

if __name__ == "__main__":
    sys.stdout.write(page())
