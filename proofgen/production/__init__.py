"""The bench's side: production files."""
