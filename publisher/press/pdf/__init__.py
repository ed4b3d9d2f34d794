"""Write PDF: page content, fonts, structure, links and the file itself."""
