"""The operator's terminal. Invariant: it shows engine state and sends intents; it decides nothing."""
