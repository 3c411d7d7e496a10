"""The tools of the build, fetched once and pinned by hash."""
