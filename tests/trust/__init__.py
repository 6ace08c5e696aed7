"""Promises kept by real server processes: seats under a rush, and after a crash."""
