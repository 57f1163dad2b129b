"""What draws: each file turns one kind of block into lines of inked text, pure; `canvas` alone knows Textual.

Invariant: text goes in as plain text and comes out as plain text with an ink. Nothing is read as markup.
"""
