"""The handbook's own charts and notes: tables, corrections, look-up and refusal."""
