"""Build a catalogue: find what is out of date, have it made by workers, publish the files."""
