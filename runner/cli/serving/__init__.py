"""The screen brought to browsers. Invariant: who has not passed the gate starts no process and sees no line of a run."""
