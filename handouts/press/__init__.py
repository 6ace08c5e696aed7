"""The press: values to HTML to PDF, kept papers, and packs."""
