"""Our own drafted dress and the script that drafts it."""
