"""Speech: from sound to a transcript."""
