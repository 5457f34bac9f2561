"""What is wrong with a design as it is drawn."""
