"""What an editor is told while a person writes. Invariant: pure functions over texts give plain values; only `server` knows the protocol."""
