"""The buyer's side: the proof picture."""
