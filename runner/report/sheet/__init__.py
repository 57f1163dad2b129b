"""Paper forms: a procedure to be worked through with a pen. Invariant: nothing is ticked that the record does not hold."""
