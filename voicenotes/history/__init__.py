"""Swimmers over time: what is kept of approved reviews, and what it tells."""
