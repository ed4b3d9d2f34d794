"""Read tables of TOML and JSON files into values, and say in which line each mistake stands."""
