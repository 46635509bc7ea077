"""The record in open forms, and the results file a student sends."""
