"""How the process ends: the one table of exit codes, printed by `changeover --help`."""

DONE = 0
FINDINGS = 1
USAGE = 2
INTERNAL = 3
UNFINISHED = 4
DAMAGED = 5
SIGNAL = 128

EXITS = (
    (DONE, "done; a run is finished; nothing found at or above the fail level"),
    (FINDINGS, "findings at or above the fail level; the procedure cannot run"),
    (USAGE, "the command was not understood, or a file it names cannot be read"),
    (INTERNAL, "a fault of this program"),
    (UNFINISHED, "the run is left unfinished"),
    (DAMAGED, "the record is damaged, or its register, signature or head code contradicts it"),
    (SIGNAL, "plus the number of the signal that ended it"),
)
