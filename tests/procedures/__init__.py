"""The procedures that ship: each compiles without findings above a note and runs to its end."""
