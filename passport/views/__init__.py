"""Projections: the only road from a record to anything that is handed out."""
