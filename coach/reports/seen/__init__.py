"""What was seen then and what is seen today, as swatches and in words."""
