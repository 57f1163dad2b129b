"""Tests of the language of the screen."""
