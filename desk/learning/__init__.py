"""What an order should weigh: unit and packing weights learned from past weighings, and readings that do not fit.

numpy only: no store, no clock, no files. `learner` is the entry point.
"""
