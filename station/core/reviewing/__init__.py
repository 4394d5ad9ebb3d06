"""The rules by which a material sheet is reviewed, by what they look at."""
