"""The words of the procedure language: tables of keys, from which schema, checks and reference are derived."""
