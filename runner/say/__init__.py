"""Texts for people, in their language. Invariant: imports nothing of ours; English needs no catalogue and cannot fail.

`text` is what all others call; `language` is chosen once, at the rim; `pseudo` finds texts that were forgotten.
"""
