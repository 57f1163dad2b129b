"""What is wrong or unsafe in a procedure. Invariant: it sees procedures only, never runs, and walks the engine's own order rules."""
