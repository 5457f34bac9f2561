"""From approved orders to boards, and what became of them."""
