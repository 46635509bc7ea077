"""A class: what students sent, merged and looked at."""
