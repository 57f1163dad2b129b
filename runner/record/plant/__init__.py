"""Finished records of many terminals in one PostgreSQL database, for a plant that has outgrown one machine.

Invariant: a copy and never the truth. A record is known by its run and the hash of its last line, so that it may be sent any
number of times, by anybody, and is there once; its bytes are kept whole, and whoever takes them from there verifies them.
"""
