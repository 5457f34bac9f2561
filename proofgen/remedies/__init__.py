"""What would help a row that fails, computed."""
