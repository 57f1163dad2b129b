"""Tests mirror runner/; `python -m tests` runs every check of the project."""
