"""How the records came to their present tables, step by step."""
