"""Accounts: who works here, in which roles, and how they get a password."""
