"""The language reference, derived from the tables of the language. Invariant: it says nothing that a table does not know."""
