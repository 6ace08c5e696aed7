"""What people must not eat, compared with what a class bakes."""
