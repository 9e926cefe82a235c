"""An author's files edited and saved: one protocol, a codec for each kind of file."""
