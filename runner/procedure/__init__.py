"""Text to a compiled procedure. Invariant: compiling returns values and findings, never raises, and every finding has a place."""
