"""What is known of each record, kept so that lists and times need not read all of them again.

Invariant: never the truth. Whatever is missing, old, of another version, broken or not writable is read from the journals
again, and nothing that stands here is ever gone by where the journal says otherwise.
"""
