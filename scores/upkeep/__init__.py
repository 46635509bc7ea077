"""Looking after the record: copies, rescue, health, forgetting."""
