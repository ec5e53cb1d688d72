"""The form of every kind of record file: which fields there are, what they hold, who may see them."""
