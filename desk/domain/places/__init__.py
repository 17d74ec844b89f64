"""Where mail goes: addresses, countries, postal codes."""
