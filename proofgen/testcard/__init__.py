"""The test card: what the maker's own machine and wood can do, and reading it into the limits."""
