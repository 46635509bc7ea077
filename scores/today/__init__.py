"""Today's practice: what can be asked, what calls for it, the mix and the reasons."""
