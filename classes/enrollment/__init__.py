"""Enrollment: public pages, seats, waiting list, letters, the door, and a student's own page."""
