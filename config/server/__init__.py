"""What answers requests, and what works beside it."""
