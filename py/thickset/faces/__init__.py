"""What a person sees: schedule text, HTML, pictures, print sheet. Escaped by construction."""
