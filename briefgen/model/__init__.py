"""What a trip is made of: frozen values in fixed internal units."""
