"""What the plan screen is made of: ways to the target, a swap, the page to print."""
