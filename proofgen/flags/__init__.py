"""What a row is told: flags, and the one list of every kind there is. Computes nothing."""
