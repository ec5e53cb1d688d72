"""The sums of the trade: pure functions of numbers, each with its units, range and source.

Imports nothing of ours.
"""
