"""Benchmarks: each prints ratios measured in one run and the goal beside them."""
