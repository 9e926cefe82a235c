"""Whose a film or a picture is, who can be recognised on it, and until when it may be shown."""
