"""The trade's tables, typed and with their sources; this room knows strings and numbers, never a record."""
