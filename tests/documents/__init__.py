"""Documents that tests discover and run."""
