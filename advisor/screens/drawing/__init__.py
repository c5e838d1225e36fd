"""Drawings made of characters: plain functions from a plan to rows of signs. They know no Textual."""
