"""A recipe as a file to keep or give away."""
