"""What is printed: pages of plans, sheets to fill by hand."""
