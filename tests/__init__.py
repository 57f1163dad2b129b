"""Tests mirror runner/; `python -m tests` runs every check of the project. They read English, whoever runs them."""

import os

os.environ["CHANGEOVER_LANGUAGE"] = "en"
