"""How the learner has changed over weeks, and what of it is more than noise."""
