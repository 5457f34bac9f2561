"""The season in figures: added up, drawn, as a page and as a workbook. Knows no order books."""
