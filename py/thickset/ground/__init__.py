"""Lengths, units, the job and its document. Knows nothing of planing."""
