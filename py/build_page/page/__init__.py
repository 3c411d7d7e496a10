"""The page put together into dist/, and served."""
