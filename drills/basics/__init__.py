"""What every floor uses and no subject owns: errors, ordinary files, JSON values, days."""
