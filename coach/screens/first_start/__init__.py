"""The screens of the first start."""
