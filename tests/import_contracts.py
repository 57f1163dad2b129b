"""Checks the import contracts of pyproject.toml: `python -m tests.import_contracts`; exits 1 where one is broken."""

import sys

from importlinter.cli import lint_imports

if __name__ == "__main__":
    sys.exit(lint_imports())
