"""The command line: arguments in, exit code out. Invariant: it alone prints, and each command imports only what it needs."""
