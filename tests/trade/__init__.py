"""Tests of the trade's arithmetic, against published examples and against other ways to the same number."""
