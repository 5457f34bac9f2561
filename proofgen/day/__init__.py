"""From the rows of a book to what is made of them."""
