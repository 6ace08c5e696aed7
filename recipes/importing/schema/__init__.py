"""schema.org Recipe JSON-LD, read from files and page sources."""
