"""Dry runs, coaching and assessment. Invariant: a dry run can never be mistaken for a live one."""
