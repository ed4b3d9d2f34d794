"""Work on finished PDFs: stamp, impose, mark for a print shop, show as pictures."""
