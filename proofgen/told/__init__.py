"""What is printed of it all."""
