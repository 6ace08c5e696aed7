"""Calendar feeds: public classes, a student's class, and the staff's work."""
