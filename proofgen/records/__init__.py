"""What was shown to buyers, and what they said to it."""
