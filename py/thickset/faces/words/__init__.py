"""The words, figures and markup that all faces share."""
