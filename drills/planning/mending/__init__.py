"""From a colour that came out wrong: what was laid, and what to lay next."""
