"""A picture of the week made into work: its colours named and tried with each one's pencils."""
