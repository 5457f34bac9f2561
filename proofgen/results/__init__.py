"""The results workbook."""
