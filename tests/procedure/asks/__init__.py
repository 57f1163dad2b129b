"""Tests of the kinds of asks, one file a kind."""
