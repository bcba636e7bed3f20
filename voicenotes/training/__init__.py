"""Training of the learned reader. Needs the ``train`` extra; nothing at run time imports it."""
