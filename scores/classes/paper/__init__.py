"""A class's answers on paper: kept beside those on screens, and counted for passing."""
