"""What swatches don't say, drawn by lot, and what moves may then come to."""
