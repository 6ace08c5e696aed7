"""The amounts of a class as pages and files, and what has changed since printing."""
