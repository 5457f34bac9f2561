"""From pieces to sheets of wood: what is cut, what lies in stock, what lies on which sheet."""
