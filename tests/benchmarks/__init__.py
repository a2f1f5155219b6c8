"""Speeds as ratios to a floor in the same run; run with ``python -m tests.benchmarks``. Not part of the test run."""
