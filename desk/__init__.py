"""Tare & Tag: batch postage preparation and weighing for one maker who sells by mail."""

__version__ = "0.1.0"
