"""Feeds: the table, tests, scoops and sprouts."""
