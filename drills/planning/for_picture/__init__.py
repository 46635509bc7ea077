"""Which pencils to take out for a picture, and what comes of it with them."""
