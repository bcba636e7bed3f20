"""The coach's edit of a review: a YAML file of its entries, and what it changes."""
