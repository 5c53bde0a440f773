"""Between bytes and structs: JSON, queries, CSV, and the schemas of each."""
