"""Parts on boards: as few boards as can be found. Pure geometry; nothing of orders."""
