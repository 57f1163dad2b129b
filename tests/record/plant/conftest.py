"""The mark of the tests that start a PostgreSQL: `-m plant` runs them alone, `-m "not plant"` leaves them out."""

import pytest


def pytest_configure(config: pytest.Config) -> None:
    """Make the mark known."""
    config.addinivalue_line("markers", "plant: tests that start a PostgreSQL of their own")
