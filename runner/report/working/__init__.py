"""The arithmetic of a procedure without a run: values, a sweep over one of them, and the jobs nearest to each limit.

Invariant: everything here takes values and gives values; width, characters and colour of a terminal are arguments.
"""
