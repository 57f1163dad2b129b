"""What each intent leads to, a theme a file. Invariant: values in, events or a refusal out; `engine.decide` is the door."""
