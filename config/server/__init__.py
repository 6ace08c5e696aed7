"""The web server, and the background work beside it."""
