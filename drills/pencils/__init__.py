"""The pencils someone owns: what they are, the file they come from, and two invented sets."""
