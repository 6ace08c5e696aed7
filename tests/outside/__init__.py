"""Checks against published or packaged references, one file a source."""
