"""Tests of the rules, beyond the examples of their pages."""
