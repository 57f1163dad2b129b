"""The best order for one person and for two, from step times. An order is only told where the engine's own rules allow it."""
