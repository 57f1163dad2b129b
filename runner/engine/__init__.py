"""What may happen next and what has happened. Invariant: no clock, no file, no screen; state comes from events alone."""
