"""Guided changeover procedures beside a web-fed press.

Packages, from the rim to the middle: cli, screen, training, report and lint, record, engine, procedure, formula, trade.
Each may import those named after it and never those before it.
"""

VERSION = "0.1.0"
