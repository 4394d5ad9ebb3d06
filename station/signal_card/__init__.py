"""A card to hang up at the bench: what each tone, lamp and press means, made from the tables that sound and light."""
