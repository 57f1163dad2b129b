"""Two compiled procedures to the changes in meaning between them. Invariant: pure, text never counts, each kind of change is one row of `rows.ROWS`."""
