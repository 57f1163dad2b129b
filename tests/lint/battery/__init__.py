"""Bad input by the thousand: whatever is written, lint answers with findings inside the file, and in time."""
