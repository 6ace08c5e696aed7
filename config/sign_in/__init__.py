"""Sign-in under attack: whose try it is, how many there are, and what is said then."""
