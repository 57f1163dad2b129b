"""Tests of the procedure package: text to compiled procedure."""
