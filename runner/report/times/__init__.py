"""Where changeovers spend their time: figures of one run, of many, and what they say.

Invariant: everything here takes events and gives figures or documents, and no figure, table or picture names a person or
compares people. Only roles and lists of the procedure are spoken of.
"""
