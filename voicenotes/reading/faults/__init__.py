"""Faults and strengths: who reads them, and what is made of it."""
