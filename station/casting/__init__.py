"""Casting arithmetic as pure functions: ratio, batch, cure, cling."""
