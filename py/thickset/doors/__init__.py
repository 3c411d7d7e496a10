"""What a person or a program calls: the one door of JSON strings, and the command line."""
