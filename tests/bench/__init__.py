"""Measured comparisons of the engine; too long for the normal test run."""
