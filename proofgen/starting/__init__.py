"""New books and folders: a workshop's first one, and next season's."""
