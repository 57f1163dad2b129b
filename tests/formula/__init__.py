"""Tests of the formula language: cases as data, laws as properties, units against their definitions."""
