"""The pages of the screen, one a file."""
