"""What the assistant weighs, by station and by ingredient."""
