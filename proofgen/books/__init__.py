"""From rows to accounts and the season."""
