"""Reviewing an imported recipe before it is saved."""
