"""A class as a scheduling problem: its work, its resources, its rules."""
