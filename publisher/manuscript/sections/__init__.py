"""Write the sections of a book, one module a section."""
