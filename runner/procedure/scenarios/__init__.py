"""Scenarios of dry runs: read, and held against their procedure. Invariant: as data with places; nothing here runs."""
