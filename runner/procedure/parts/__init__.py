"""The parts of compiling, one file each. Invariant: each takes checked nodes and a desk, and returns values of the model."""
