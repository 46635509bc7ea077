"""Speed, as ratios against a named floor measured in the same run. Nothing else tests it."""
