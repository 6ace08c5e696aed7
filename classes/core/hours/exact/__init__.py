"""The best plan, found or proven by constraint programming."""
