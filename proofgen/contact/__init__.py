"""The contact sheet: every row on one page that opens in any browser. Knows no order books."""
