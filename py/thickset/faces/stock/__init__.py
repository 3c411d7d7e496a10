"""What a person sees of wood to buy and parts to cut."""
