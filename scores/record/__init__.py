"""The record: every answer kept, its file, its tables and its journal."""
