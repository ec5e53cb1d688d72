"""From records to results: pure, and the only place where a question about several records is decided."""
