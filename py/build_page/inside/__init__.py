"""What dist/ holds that others made: the kept list, the bill of materials, the notices."""
