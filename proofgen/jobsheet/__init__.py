"""What is done at the bench: boards, trays, sessions, orders, slips. Knows no order books."""
