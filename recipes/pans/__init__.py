"""A recipe's pan page."""
