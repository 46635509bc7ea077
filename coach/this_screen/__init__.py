"""What is known of the screens that the learner practises on."""
