"""The job and its document: fields, how entries are read, the run it carries, tables."""
