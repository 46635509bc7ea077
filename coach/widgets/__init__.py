"""What screens are made of; each paints itself and knows nothing of the others."""
