"""The search for plans: layer by layer, within the craft."""
