"""Cautions from data: a condition on facts, a text, a citation. No rule is code."""
