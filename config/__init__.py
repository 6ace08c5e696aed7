"""The site: settings, addresses, sign-in, and the commands that start it."""
