"""The day at a glance, and what is written to buyers."""
