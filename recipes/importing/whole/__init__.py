"""What concerns a pasted recipe as a whole: its frame, its yield, its tables, its prose."""
