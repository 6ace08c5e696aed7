"""What sets the project up: system packages, the Python environment, web fonts."""
