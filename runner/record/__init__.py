"""The journal of a run is the only truth. Invariant: nothing shows as accepted before it is on disk."""
