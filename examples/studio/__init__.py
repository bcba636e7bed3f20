"""What makes the example clip: a voice, a drawn swimmer, and a film of both."""
