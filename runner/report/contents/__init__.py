"""What documents say: one content a file. Invariant: a content quotes events and never reads a clock, a file or a later text."""
