"""The schedule's proof: made-up learners, their habits, and the schedules they are given."""
