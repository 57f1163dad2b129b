"""Mirrors runner/report/timeline."""
