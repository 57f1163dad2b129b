"""One run at two terminals: one keeps the record, the others send it intents and fold the record themselves.

Invariant: nothing is done but through the keeper's one door, and nothing shows at a joined terminal that is not on the disk.
"""
