"""Cost, price and profit: of a piece, an order, a sheet, a season. Knows no books and no files."""
