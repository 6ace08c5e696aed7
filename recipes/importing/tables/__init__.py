"""Lists in columns: formulas, batches, bare numbers, two lists side by side."""
