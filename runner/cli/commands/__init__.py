"""The commands, one a file: `arguments(parser)` says what it takes, `run(options)` does it and returns the exit code."""
