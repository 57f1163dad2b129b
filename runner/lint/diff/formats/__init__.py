"""How differences are printed, one file a format. Invariant: everything printed has passed `clean`; a format decides nothing."""

from runner.lint.diff.formats import json, markdown, text
from runner.lint.diff.formats.format import Format

FORMATS: dict[str, Format] = {form.name: form for form in (text.FORMAT, markdown.FORMAT, json.FORMAT)}
"""By name, the one for people first."""
