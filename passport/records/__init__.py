"""Records: the only room that opens YAML; what a record may hold, how it is read, named and dated."""
