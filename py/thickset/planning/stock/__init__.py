"""Wood before it is a lot and parts after it: slabs, buying, cutting plans."""
