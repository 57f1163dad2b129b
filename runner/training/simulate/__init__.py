"""Many whole runs by chance, through the real engine. Invariant: the seed alone says what happens; no clock, no disk."""
