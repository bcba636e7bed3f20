"""The swim vocabulary: its entries, how they are loaded and how they test themselves."""
