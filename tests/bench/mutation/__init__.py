"""Mutation: one small fault at a time in a scratch copy, to see whether a test notices."""
