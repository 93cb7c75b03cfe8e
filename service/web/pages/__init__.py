"""The pages: one file per page with its route and the frozen record its template shows."""
