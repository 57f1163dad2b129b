"""The proof over every way is held against plain enumeration, which reduces nothing."""
