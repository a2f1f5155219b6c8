"""One module per verb of the command line; none of them needs a window."""
