"""All the jobs that a procedure allows, looked at together: what its values may come to, and the job that is worst.

Invariant: bounds are never too narrow, and a job that is named is one that the procedure takes as typed; where neither a
proof nor a job was found, the answer says so.
"""
