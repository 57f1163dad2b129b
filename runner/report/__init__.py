"""Records and procedures as documents, documents as bytes. Invariant: a report quotes the record, it recomputes nothing."""
